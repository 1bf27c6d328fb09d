// A hand that holds something: from the press to the drop, or to Escape.

/** What a hand does while it holds. */
export interface Holds {
	move: (e: PointerEvent) => void;
	drop: () => void;
	giveUp: () => void;
}

/** Follows the pointer that has just pressed on a target until it lets go. */
export function hold(target: Element, on: Holds): void {
	const move = on.move as EventListener;
	const end = () => {
		target.removeEventListener("pointermove", move);
		target.removeEventListener("pointerup", drop);
		target.removeEventListener("pointercancel", drop);
		removeEventListener("keydown", leave, true);
	};
	const drop = () => {
		end();
		on.drop();
	};
	const leave = (e: KeyboardEvent) => {
		if (e.key !== "Escape") return;
		e.stopPropagation();
		end();
		on.giveUp();
	};
	target.addEventListener("pointermove", move);
	target.addEventListener("pointerup", drop);
	target.addEventListener("pointercancel", drop);
	addEventListener("keydown", leave, true);
}

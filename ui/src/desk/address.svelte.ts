// What the address of the page says, so that a link shows the same to somebody else.

export const views = ["line", "air", "cost", "options", "search", "papers", "asking", "questions", "relations", "start", "jobs"] as const;
export type View = (typeof views)[number];
type Key = "job" | "view" | "at" | "format" | "units" | "shade" | "shape" | "topic";

const usual: Partial<Record<Key, string>> = { view: "line", units: "si", shade: "auto", shape: "flat" };

class Address {
	#all = $state(new URLSearchParams());

	constructor() {
		this.#all = new URLSearchParams(location.search);
		for (const key of ["units", "shade"] as const) {
			const kept = localStorage.getItem(key);
			if (kept && !this.#all.has(key)) this.#all.set(key, kept);
		}
		addEventListener("popstate", () => {
			this.#all = new URLSearchParams(location.search);
		});
	}

	get(key: Key): string {
		return this.#all.get(key) ?? usual[key] ?? "";
	}

	/** Changes the address; a new view or job becomes a step that the browser's back button takes back. */
	set(changes: Partial<Record<Key, string>>): void {
		const next = new URLSearchParams(this.#all);
		let step = false;
		for (const [key, value] of Object.entries(changes) as [Key, string][]) {
			step ||= (key === "view" || key === "job") && this.get(key) !== "" && value !== this.get(key);
			if (value && value !== usual[key]) next.set(key, value);
			else next.delete(key);
			if (key === "units" || key === "shade") localStorage.setItem(key, value);
		}
		this.#all = next;
		const url = `${location.pathname}?${next}`;
		if (step) history.pushState(null, "", url);
		else history.replaceState(null, "", url);
	}

	get view(): View {
		const v = this.get("view") as View;
		return views.includes(v) ? v : "line";
	}

	get us(): boolean {
		return this.get("units") === "us";
	}
}

export const address = new Address();

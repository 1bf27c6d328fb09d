// Layout of an air network: places from left to right by their distance from the blowers, ends below each other.
import type { Air } from "../api/client.ts";

export interface Spot {
	name: string;
	x: number; // rank from the left
	y: number; // row
	pressure: number | null; // gauge [Pa]
}

/** Places of a network by name. Loops and several blowers are allowed; every place has one row. */
export function places(branches: Air["branches"]): Map<string, Spot> {
	const out = new Map<string, Spot>();
	const into = new Set(branches.map((b) => b.to));
	const starts = [...new Set(branches.map((b) => b.from))].filter((n) => !into.has(n));
	if (!starts.length && branches[0]) starts.push(branches[0].from);
	let row = 0;
	const visit = (name: string, rank: number, pressure: number | null): number => {
		const known = out.get(name);
		if (known) {
			known.x = Math.max(known.x, rank);
			return known.y;
		}
		const spot: Spot = { name, x: rank, y: 0, pressure };
		out.set(name, spot);
		const rows = branches.filter((b) => b.from === name).map((b) => visit(b.to, rank + 1, b.end_pa));
		spot.y = rows.length ? (Math.min(...rows) + Math.max(...rows)) / 2 : row++;
		return spot.y;
	};
	for (const s of starts) visit(s, 0, branches.find((b) => b.from === s)?.start_pa ?? null);
	return out;
}

// The trade-off of a search as points of a drawing.
import type { Search } from "../api/client.ts";
import { digits, reserve } from "./numbers.ts";

/** A reserve of a search, to the hundredth as the study tells it, by which candidates near 1 differ; up to what is plenty. */
export function told(x: number | null, plenty: number): string {
	if (x !== null && x > plenty) return `over ${digits(plenty, 2).replace(/\.0$/, "")}`;
	return x !== null && x >= 1 ? digits(x, 3) : reserve(x);
}

/** How high a reserve stands in the drawing: all that is plenty lies on one line a little above it, so that what lies below keeps its scale. */
export function height(x: number | null, plenty: number): number | null {
	return x !== null && x > plenty ? 1.05 * plenty : x;
}

/** The greatest height that the drawing needs; NaN where the points tell it. */
export function ceiling(front: Search["front"], plenty: number): number {
	return front.some((p) => (p.reserve ?? 0) > plenty) ? 1.1 * plenty : Number.NaN;
}

/** The outline of a dot of some shape and size around a place. */
export function dot(shape: number, x: number, y: number, r: number): string {
	const corners: [number, number][] = [
		[
			[-0.9, -0.9],
			[0.9, -0.9],
			[0.9, 0.9],
			[-0.9, 0.9],
		],
		[
			[0, -1.2],
			[1.1, 0.8],
			[-1.1, 0.8],
		],
		[
			[0, -1.3],
			[1.3, 0],
			[0, 1.3],
			[-1.3, 0],
		],
		[
			[0, 1.2],
			[-1.1, -0.8],
			[1.1, -0.8],
		],
		[
			[-0.4, -1.1],
			[0.4, -1.1],
			[0.4, -0.4],
			[1.1, -0.4],
			[1.1, 0.4],
			[0.4, 0.4],
			[0.4, 1.1],
			[-0.4, 1.1],
			[-0.4, 0.4],
			[-1.1, 0.4],
			[-1.1, -0.4],
			[-0.4, -0.4],
		],
	][(shape - 1) % 5] as [number, number][];
	return `M${corners.map(([u, v]) => `${x + u * r} ${y + v * r}`).join("L")}Z`;
}

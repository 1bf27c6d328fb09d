// Outlines for the drawings: bodies in space seen along an axis.

export type Point = [number, number];

/** The convex hull of points, counter-clockwise. */
export function hull(points: Point[]): Point[] {
	const p = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
	const cross = (o: Point, a: Point, b: Point) => (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
	const half = (list: Point[]) => {
		const out: Point[] = [];
		for (const q of list) {
			while (out.length > 1 && cross(out[out.length - 2] as Point, out[out.length - 1] as Point, q) <= 0) out.pop();
			out.push(q);
		}
		out.pop();
		return out;
	};
	return p.length < 3 ? p : [...half(p), ...half(p.reverse())];
}

export const joined = (points: Point[]): string => points.map(([x, y]) => `${x.toFixed(2)},${y.toFixed(2)}`).join(" ");

/** Points of a list of coordinates, x, y and z one after the other. */
export function triples(list: (number | null)[]): [number, number, number][] {
	const out: [number, number, number][] = [];
	for (let i = 0; i + 2 < list.length; i += 3) out.push([list[i] ?? 0, list[i + 1] ?? 0, list[i + 2] ?? 0]);
	return out;
}

/** A closed outline from half widths by height, mirrored. */
export function mirrored(shape: { a: (number | null)[]; b: (number | null)[] }): Point[] {
	const right = shape.a.map((a, i): Point => [a ?? 0, -(shape.b[i] ?? 0)]);
	const left = [...right].reverse().map(([x, y]): Point => [-x, y]);
	return [...right, ...left];
}

/** Places of names that make room for each other: each wants a place, from the lowest up, none nearer to the next than twice the room of one, nor to the upper end than once; where all cannot have that, they share what there is. */
export function spread(wanted: number[], room: number, lowest: number): number[] {
	const each = Math.min(2 * room, (lowest - room) / Math.max(1, wanted.length - 1));
	const out: number[] = [];
	for (const y of wanted) out.push(Math.min(y, out.length ? (out.at(-1) as number) - each : lowest));
	let least = room;
	for (let i = out.length - 1; i >= 0; i--) {
		out[i] = Math.max(out[i] as number, least);
		least = (out[i] as number) + each;
	}
	return out;
}

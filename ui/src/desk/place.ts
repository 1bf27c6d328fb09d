// From a drag of an outlet to edits of the job: what moves with the hand, what it snaps to, what undo calls it.
import type { Edit, Outlet, Rail, Scene, Station } from "../api/client.ts";
import { millimetres, type Spelt } from "./spelling.ts";

/** A way in the station's axes [mm]: x along travel, y to the left, z up. */
export interface Way {
	x: number;
	y: number;
	z: number;
}

export type Sheet = "elevation" | "plan";

/** What an outlet's place is written as in the file, with the value it has now [mm]. */
export interface Written {
	key: "x" | "height" | "stand_off" | "offset";
	now: number;
	sense: 1 | -1; // of the value against the axis
	axis: keyof Way;
}

/** The job as it is written: its values, and how its lengths are spelt. */
export interface File {
	value: (path: string) => unknown;
	spelt: (path: string) => Spelt;
}

/** By what a hand moves an outlet along each axis of a drawing [mm]. */
export function grids(o: Outlet, sheet: Sheet, file: File): Way {
	const out: Way = { x: 1, y: 1, z: 1 };
	for (const w of written(o, sheet, file)) out[w.axis] = file.spelt(`${o.path}/${w.key}`).grid;
	return out;
}

/** The written values of an outlet that a hand can move in one of the drawings. */
export function written(o: Outlet, sheet: Sheet, { value }: File): Written[] {
	const at = (key: Written["key"], drawn: number | null | undefined) => millimetres(value(`${o.path}/${key}`)) ?? drawn ?? 0;
	const [x, y, z] = o.middle_mm;
	const across: Written = { key: "offset", now: at("offset", y), sense: 1, axis: "y" };
	const out: Written[] = [{ key: "x", now: at("x", x), sense: 1, axis: "x" }];
	const beside = o.side === "left" || o.side === "right";
	if (sheet === "elevation") {
		if (beside) out.push({ key: "height", now: at("height", z), sense: 1, axis: "z" });
		else out.push({ key: "stand_off", now: at("stand_off", o.stand_off_mm), sense: o.side === "above" ? 1 : -1, axis: "z" });
	} else if (beside) {
		const side = o.side === "left" ? 1 : -1;
		if (o.by_offset) out.push({ ...across, now: at("offset", Math.abs(y ?? 0)), sense: side });
		else out.push({ key: "stand_off", now: at("stand_off", o.stand_off_mm), sense: side, axis: "y" });
	} else out.push(across);
	return out;
}

/** Lines that an outlet snaps to: the places of the others, the middle and ends of the container. */
export function lures(o: Outlet, station: Station, height: number): Record<keyof Way, number[]> {
	const others = station.outlets.filter((p) => p.path !== o.path);
	const of = (k: 0 | 1 | 2) => others.map((p) => p.middle_mm[k]).filter((v): v is number => v !== null && v !== undefined);
	return { x: [0, ...of(0)], y: [0, ...of(1)], z: [0, height / 2, height, ...of(2)] };
}

/** Moves along one axis to the nearest lure within reach, otherwise by whole steps. */
export function snapped(from: number, by: number, lure: number[], reach: number, grid = 1): { by: number; on: number | null } {
	const to = from + by;
	let best: number | null = null;
	for (const l of lure) if (Math.abs(l - to) <= reach && (best === null || Math.abs(l - to) < Math.abs(best - to))) best = l;
	if (best !== null) return { by: best - from, on: best };
	return { by: Math.round(by / grid) * grid, on: null };
}

/** The edits that move an outlet, or all outlets of its frame, by a way in one of the drawings. */
export function moves(outlets: Outlet[], way: Way, sheet: Sheet, file: File): Edit[] {
	const out: Edit[] = [];
	for (const o of outlets) {
		for (const w of written(o, sheet, file)) {
			const by = way[w.axis] * w.sense;
			if (Math.abs(by) < 0.05) continue;
			const to = w.key === "stand_off" ? Math.max(1, w.now + by) : w.now + by;
			const path = `${o.path}/${w.key}`;
			out.push({ op: "set", path, value: file.spelt(path).write(to) });
		}
	}
	return out;
}

/** What of a rail's place a hand can move in one of the drawings [mm]. */
export interface RailPlace {
	path: string;
	axis: "y" | "z";
	now: number;
	least: number;
	most: number;
	spelt: Spelt;
}

/** A rail goes up and down in the elevation; in the plan both of a pair go away from the container or towards it. */
export function railPlace(r: Rail, sheet: Sheet, file: File): RailPlace {
	const [key, axis, drawn, least, most] =
		sheet === "elevation" ? (["height", "z", r.z_mm, 1, 2000] as const) : (["play", "y", r.play_mm, 0, 100] as const);
	const path = `${r.path}/${key}`;
	return { path, axis, now: millimetres(file.value(path)) ?? drawn ?? 0, least, most, spelt: file.spelt(path) };
}

/** The way that a rail goes when it is asked to go by so much, in whole steps, and the edit that makes it. */
export function railMove(place: RailPlace, by: number): { by: number; edits: Edit[] } {
	const { grid, write } = place.spelt;
	const to = Math.min(place.most, Math.max(place.least, place.now + Math.round(by / grid) * grid));
	const gone = to - place.now;
	return { by: gone, edits: Math.abs(gone) < 0.05 ? [] : [{ op: "set", path: place.path, value: write(to) }] };
}

/** The place of a thing along the line, as the file writes it [mm]. */
export interface Along {
	path: string;
	now: number;
	least: number;
	from: string; // from where it counts
	spelt: Spelt;
}

/** What of a thing on the line a hand can move along it: a station's place, a machine's distance. */
export function along(line: Scene["line"], path: string, { spelt }: File): Along | null {
	const s = line.stations.find((q) => q.path === path);
	if (s) return { path: `${path}/at`, now: s.x_mm ?? 0, least: Number.NEGATIVE_INFINITY, from: "along the line", spelt: spelt(`${path}/at`) };
	const m = line.machines.find((q) => q.path === path);
	if (!m) return null;
	const before = line.stations.find((q) => q.name === m.after);
	const now = (m.x_mm ?? 0) - (before?.x_mm ?? 0);
	return { path: `${path}/distance`, now, least: 0, from: "after its station", spelt: spelt(`${path}/distance`) };
}

/** The edit that puts a thing there. */
export function alongEdit(place: Along, to: number): Edit {
	return { op: "set", path: place.path, value: place.spelt.write(to) };
}

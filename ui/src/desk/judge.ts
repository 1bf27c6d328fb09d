// What of an answer is always in view: the verdict on each machine, the worst zone, how safely containers stand.
import type { Requirement, Result } from "../api/client.ts";
import { digits, reserve } from "./numbers.ts";

export type Verdict = "met" | "not met" | "undecided" | "";

export interface Judged {
	verdict: Verdict;
	reserve: number | null;
}

export interface Worst extends Judged {
	format: string;
	zone: string;
	cause: string;
	where: string;
	requirement: Requirement | null;
}

const order: Record<string, number> = { "not met": 0, undecided: 1, met: 2 };

function eachRequirement(r: Result, see: (x: Requirement, zone: Result["formats"][0]["zones"][0], format: string) => void): void {
	for (const f of r.formats) for (const z of f.zones) for (const x of z.requirements) see(x, z, f.name);
}

/** The worst verdict and the least reserve at a machine, over all formats. */
export function atMachine(r: Result | null | undefined, machine: string): Judged {
	const out: Judged = { verdict: "", reserve: null };
	if (!r) return out;
	eachRequirement(r, (x) => {
		if (x.machine !== machine) return;
		if (out.verdict === "" || (order[x.verdict] ?? 3) < (order[out.verdict] ?? 3)) out.verdict = x.verdict as Verdict;
		if (x.reserve !== null && (out.reserve === null || x.reserve < out.reserve)) out.reserve = x.reserve;
	});
	return out;
}

/** The requirement with the worst verdict and, among such, the least reserve; and the zone that holds most of the water where it is about all. */
export function worst(r: Result | null | undefined): Worst | null {
	if (!r) return null;
	let found: Worst | null = null;
	eachRequirement(r, (x, z, format) => {
		const before = order[found?.verdict ?? ""] ?? 3;
		const here = order[x.verdict] ?? 3;
		const less = x.reserve !== null && (found?.reserve === null || found?.reserve === undefined || x.reserve < found.reserve);
		if (!found || here < before || (here === before && less)) {
			found = {
				verdict: x.verdict as Verdict,
				reserve: x.reserve,
				format,
				zone: z.name,
				cause: z.main_cause ?? "",
				where: z.where ?? "",
				requirement: x,
			};
		}
	});
	if (found) {
		const w = found as Worst;
		const f = r.formats.find((y) => y.name === w.format);
		const most = f?.zones.filter((z) => z.name !== "all").sort((a, b) => (b.water_left_mg.likely ?? 0) - (a.water_left_mg.likely ?? 0))[0];
		if (most && (w.zone === "all" || !w.cause)) return { ...w, zone: most.name, cause: most.main_cause ?? "", where: most.where ?? "" };
		return w;
	}
	const f = r.formats[0];
	const z = f ? [...f.zones].sort((a, b) => (b.water_left_mg.likely ?? 0) - (a.water_left_mg.likely ?? 0))[0] : undefined;
	return f && z
		? { verdict: "", reserve: null, format: f.name, zone: z.name, cause: z.main_cause ?? "", where: z.where ?? "", requirement: null }
		: null;
}

/** Why the answer is as it is: that a container falls, where its water is judged better, or else what most of the water is in the zone that decides, with the name of the format where there are several. */
export function reason(r: Result): string {
	const decides = worst(r);
	if (decides && (order[decides.verdict] ?? 0) > (order[r.verdict] ?? 3)) return falls(r);
	const f = r.formats.find((x) => x.name === decides?.format) ?? r.formats[0];
	const zone = f?.zones.find((z) => z.requirements.some((x) => x === decides?.requirement));
	const why = zone && zone.name !== "all" ? mostOf(zone) : (f?.why ?? "");
	return f && why && r.formats.length > 1 ? `${f.name}: ${why}` : why;
}

/** That a container falls over or off, where an answer is worse than its water; empty where something else speaks against it. */
function falls(r: Result): string {
	for (const f of r.formats)
		for (const [way, does] of [
			["tip", "tips it"],
			["lift", "lifts it"],
		] as const) {
			const factor = f.stability[way]?.factor ?? 1;
			if (f.verdict === r.verdict && factor < 1)
				return `${r.formats.length > 1 ? `${f.name}: ` : ""}the air ${does}, resistance over push ${reserve(factor)}`;
		}
	return "";
}

/** What most of the water left in a zone is; empty where hardly any is. */
function mostOf(z: Result["formats"][0]["zones"][0]): string {
	if (!z.main_cause) return "";
	const part = z.parts_mg[z.main_cause.replaceAll(" ", "_")];
	const amounts = part && z.water_left_mg.likely ? `: ${digits(part, 2)} of ${digits(z.water_left_mg.likely, 2)} mg` : "";
	return `the largest part of the water left at the ${z.name} is ${z.main_cause}${z.where ? `, ${z.where}` : ""}${amounts}`;
}

/** What an answer rests on: the method, and whether other cases than the nominal one are in it. */
export function restsOn(depth: string, trial: boolean): string {
	if (trial) return "while you drag, quick method";
	return `${depth === "quick" ? "quick method" : "water followed over the wall"}, ${depth === "whole" ? "every case" : "nominal case"}`;
}

export interface Standing {
	factor: number;
	way: string;
	needs: string;
	format: string;
}

/** The way in which a container is moved most easily: resistance over push. */
export function standing(r: Result | null | undefined): Standing | null {
	let out: Standing | null = null;
	for (const f of r?.formats ?? []) {
		for (const [way, w] of Object.entries(f.stability)) {
			if (w.factor !== null && (out === null || w.factor < out.factor))
				out = { factor: w.factor, way: way.replaceAll("_", " "), needs: w.needs ?? "", format: f.name };
		}
	}
	return out;
}

/** Power from the grid of all blowers; null where the answer has no blower. */
export function power(r: Result | null | undefined): number | null {
	if (!r?.air_supply.blowers.length) return null;
	return r.air_supply.blowers.reduce((sum, b) => sum + (b.grid_w ?? Number.NaN), 0);
}

/** Class of a verdict for its colour. */
export const tone = (v: string): string => ({ met: "met", "not met": "not", undecided: "open" })[v] ?? "";

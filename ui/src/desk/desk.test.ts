import { describe, expect, test } from "vitest";
import type { Outlet, Result, Station } from "../api/client.ts";
import { atMachine, reason, restsOn, standing, worst } from "./judge.ts";
import { places } from "./network.ts";
import { band, digits, inOther, nothing, reserve, show, typeset } from "./numbers.ts";
import { hull, mirrored, type Point, spread } from "./outline.ts";
import { arrow, pushAt } from "./pass.ts";
import { along, alongEdit, type File, grids, lures, moves, railMove, railPlace, snapped } from "./place.ts";
import { millimetres, spelling } from "./spelling.ts";
import { ceiling, dot, height, told } from "./trade.ts";
import { groupAt, titleOf, valueAt } from "./tree.ts";
import { classOf, ramp, scaleFor, unpack } from "./water.ts";

describe("numbers", () => {
	test.each([
		[0.80221, 3, "0.802"],
		[6433.39, 3, "6430"],
		[38600.3, 3, "38,600"],
		[0.9996, 2, "1.0"],
		[99.96, 3, "100"],
		[0, 3, "0"],
		[null, 3, nothing],
		[Number.NaN, 3, nothing],
		[Number.POSITIVE_INFINITY, 3, nothing],
		[-41.26, 3, "-41.3"],
	])("%s to %i digits is %s", (x, n, want) => expect(digits(x, n)).toBe(want));

	test("units of both kinds", () => {
		expect(show("mm", 25.4, false)).toBe("25.4 mm");
		expect(show("mm", 25.4, true)).toBe("1.00 in");
		expect(show("c", 100, true)).toBe("212 °F");
		expect(show("pa", 20000, true)).toBe("2.90 psi");
		expect(band("mg", { likely: 259.1, low: 103.9, high: 647 }, false)).toBe("260 mg (100 to 650)");
	});

	test("lengths as people write them", () => {
		expect(millimetres("4 in")).toBeCloseTo(101.6);
		expect(millimetres("0,3 m")).toBeCloseTo(300);
		expect(millimetres("not known")).toBeNull();
		expect(millimetres(12)).toBeNull();
		expect(millimetres("1 1/2 in")).toBeCloseTo(38.1);
		expect(millimetres("-3/64 inch")).toBeCloseTo(-1.190625);
		expect(millimetres("4 1 in")).toBeNull();
		expect(millimetres("4 kPa")).toBeNull();
		expect(inOther("40 mm", true)).toBe("1.575 in");
		expect(inOther("2 in", false)).toBe("50.80 mm");
		expect(inOther("40 mm", false)).toBe("");
	});
});

describe("water", () => {
	test("the ramp is even to the eye and gets darker", () => {
		const light = ramp(9).map(([r, g, b]) => 0.21 * r + 0.72 * g + 0.07 * b);
		for (let i = 1; i < light.length; i++) expect(light[i]).toBeLessThan(light[i - 1] as number);
	});
	test("classes end at 1, 2 and 5", () => {
		const s = scaleFor(480);
		expect(s.limits).toEqual([2, 5, 10, 20, 50, 100, 200, 500]);
		expect(s.colours).toHaveLength(9);
		expect([0, 2, 2.1, 500, 501].map((w) => classOf(s, w))).toEqual([0, 0, 1, 7, 8]);
		expect(scaleFor(Number.NaN).limits.at(-1)).toBe(1);
	});
	test("packed numbers come back", () => {
		const raw = new Float32Array([0, 1.5, -3.25]);
		expect([...unpack(btoa(String.fromCharCode(...new Uint8Array(raw.buffer))))]).toEqual([...raw]);
	});
});

const outlet = (side: string, middle: number[], path = "/stations/0/outlets/0"): Outlet =>
	({ path, name: path, kind: "air knife", side, middle_mm: middle, stand_off_mm: 40, by_offset: false }) as unknown as Outlet;

const written = (said: Record<string, unknown>, units = "si"): File => {
	const value = (p: string) => said[p];
	return { value, spelt: spelling(value, units) };
};

describe("dragging", () => {
	const said: Record<string, string> = {
		"/stations/0/outlets/0/x": "0 mm",
		"/stations/0/outlets/0/height": "68 mm",
		"/stations/0/outlets/0/stand_off": "40 mm",
	};
	const file = written(said);
	test("to the right and up in the elevation moves x and height", () => {
		expect(moves([outlet("left", [0, 70, 68])], { x: 12, y: 0, z: -8 }, "elevation", file)).toEqual([
			{ op: "set", path: "/stations/0/outlets/0/x", value: "12 mm" },
			{ op: "set", path: "/stations/0/outlets/0/height", value: "60 mm" },
		]);
	});
	test("away from the wall in the plan is more stand-off on either side", () => {
		const of = (side: string, y: number) => moves([outlet(side, [0, 0, 0])], { x: 0, y, z: 0 }, "plan", file).map((e) => e.value);
		expect(of("left", 5)).toEqual(["45 mm"]);
		expect(of("right", -5)).toEqual(["45 mm"]);
		expect(of("right", 100)).toEqual(["1 mm"]);
	});
	test("an outlet above moves up by its stand-off", () => {
		expect(moves([outlet("above", [0, 0, 150])], { x: 0, y: 0, z: 7 }, "elevation", file)).toEqual([
			{ op: "set", path: "/stations/0/outlets/0/stand_off", value: "47 mm" },
		]);
	});
	test("snaps to what is near, otherwise to whole millimetres", () => {
		const near = lures(outlet("left", [0, 70, 68]), { outlets: [outlet("right", [50, -70, 40], "/b")] } as unknown as Station, 115);
		expect(snapped(0, 48.7, near.x, 3)).toEqual({ by: 50, on: 50 });
		expect(snapped(0, 44.3, near.x, 3)).toEqual({ by: 44, on: null });
		expect(snapped(68, -10, near.z, 3)).toEqual({ by: -10.5, on: 57.5 });
		expect(snapped(0, 49.9, near.x, 0)).toEqual({ by: 50, on: null });
	});
});

// Sentences had units as they are typed, "44 deg" and "50 g/m2", which papers and the terminal have not.
test("units of sentences are typeset", () => {
	expect(typeset("28 degC, 50 g/m2, 15 deg, 3 m3/h, 9 um")).toBe("28 °C, 50 g/m², 15°, 3 m³/h, 9 µm");
	expect(typeset("from 60 degF to 7 degrees: 6.6 kW/(m3/min), W/(m2 K)")).toBe("from 60 °F to 7 degrees: 6.6 kW/(m³/min), W/(m² K)");
	for (const same of ["60 um5", "format m25, drum 2", "44°, 50 g/m²", "neodym 2 and Museum", ""]) expect(typeset(same)).toBe(same);
});

// An inch job got "76.2 mm" from a drag.
describe("what a hand moves is written as it was", () => {
	const path = "/stations/0/outlets/0";
	const spelt = (said: string | undefined, mm: number, units = "si", values?: unknown) =>
		written({ [`${path}/x`]: said, "": values }, units)
			.spelt(`${path}/x`)
			.write(mm);
	test("in its unit, with its digits or more", () => {
		expect(spelt("3 in", 76.2 + 2.54)).toBe("3.1 in");
		expect(spelt("3.00 in", 76.2 + 2.54)).toBe("3.10 in");
		expect(spelt("1 1/2 in", 38.1)).toBe("1.5 in");
		expect(spelt("3.125 inches", 80.645)).toBe("3.175 inches");
		expect(spelt("2 ft", 615)).toBe("2.018 ft");
		expect(spelt("6 cm", 64.5)).toBe("6.45 cm");
		expect(spelt("2 m", 2350)).toBe("2.35 m");
		expect(spelt("0.0600000001 m", 64.5)).toBe("0.064500 m");
		expect(spelt("60 mm", 57.54)).toBe("57.5 mm");
		expect(spelt("60.0 mm", 57)).toBe("57.0 mm");
	});
	test("else as its key is written elsewhere, or as most of the file is", () => {
		const other = { stations: [{ outlets: [{ height: "4 in" }] }, { outlets: [{ x: "not known" }, { x: "5.00 cm" }] }] };
		expect(spelt("0", 64.5, "us", other)).toBe("6.45 cm");
		expect(spelt("not known", 76.2, "us", {})).toBe("3 in");
		expect(spelt(undefined, 76.25)).toBe("76.3 mm");
	});
	test("by steps of its unit", () => {
		const file = written({ [`${path}/x`]: "3 in", [`${path}/height`]: "68 mm", [`${path}/stand_off`]: "1 in" }, "us");
		const o = outlet("left", [76.2, 70, 68]);
		expect(grids(o, "elevation", file)).toEqual({ x: 0.05 * 25.4, y: 1, z: 1 });
		const by = snapped(76.2, 4, [], 0, grids(o, "elevation", file).x).by;
		expect(moves([o], { x: by, y: 0, z: 0 }, "elevation", file).map((e) => e.value)).toEqual(["3.15 in"]);
		const rail = railPlace({ path: "/line/rails/0", y_mm: -42, z_mm: 50.8, play_mm: 3 } as never, "elevation", file);
		expect(railMove(rail, 3).edits[0]?.value).toBe("2.1 in");
		expect(railMove(rail, -90).edits[0]?.value).toBe("0.04 in");
		const line = {
			stations: [{ path: "/stations/0", name: "one", x_mm: 609.6 }],
			machines: [{ path: "/next/0", after: "one", x_mm: 1219.2 }],
		} as never;
		const place = along(line, "/next/0", written({ "/next/0/distance": "2 ft" }, "us"));
		expect(place && alongEdit(place, place.now + 10 * place.spelt.grid).value).toBe("2.1 ft");
	});
});

test("a rail goes up and down in the elevation, and away from the container in the plan", () => {
	const rail = { path: "/line/rails/0", y_mm: -42, z_mm: 60, radius_mm: 6, play_mm: 3 };
	const said = written({ "/line/rails/0/height": "60 mm" }); // the play is taken
	const up = railPlace(rail, "elevation", said);
	const out = railPlace(rail, "plan", said);
	expect(railMove(up, 4.4)).toEqual({ by: 4, edits: [{ op: "set", path: "/line/rails/0/height", value: "64 mm" }] });
	expect(railMove(up, -90)).toMatchObject({ by: -59, edits: [{ value: "1 mm" }] });
	expect(railMove(out, 2)).toEqual({ by: 2, edits: [{ op: "set", path: "/line/rails/0/play", value: "5 mm" }] });
	expect(railMove(out, -9)).toMatchObject({ by: -3, edits: [{ value: "0 mm" }] });
	expect(railMove(out, 0.3).edits).toEqual([]);
});

test("outlines", () => {
	const square: Point[] = [
		[0, 0],
		[2, 0],
		[2, 2],
		[0, 2],
		[1, 1],
	];
	expect(hull(square)).toHaveLength(4);
	expect(mirrored({ a: [1, 2], b: [0, 5] })).toEqual([
		[1, -0],
		[2, -5],
		[-2, -5],
		[-1, -0],
	]);
});

// The names of a bottle's neck stood in the heading above the map.
test("names make room for each other and stay beside the map", () => {
	expect(spread([90, 50, 10], 7, 100)).toEqual([90, 50, 10]);
	expect(spread([90, 20, 12, 6, 4, 2], 7, 100)).toEqual([90, 63, 49, 35, 21, 7]);
	expect(spread([100, 99, 98], 7, 100)).toEqual([100, 86, 72]);
	expect(Math.min(...spread([90, 80, 70, 60, 50, 40], 7, 40))).toBeCloseTo(7);
});

test("paths find values, names and forms", () => {
	const job = { values: { stations: [{ name: "one", outlets: [{ kind: "nozzle" }] }] } } as never;
	expect(valueAt(job, "/stations/0/outlets/0/kind")).toBe("nozzle");
	expect(valueAt(job, "/stations/1/name")).toBeUndefined();
	expect(titleOf(job, "/stations/0")).toBe("one");
	expect(titleOf(job, "/stations/3")).toBe("station 4");
	const forms = { root: "Job", groups: { Job: { fields: [{ key: "stations", group: "Station" }] }, Station: { fields: [] } } } as never;
	expect([groupAt(forms, "/stations/0"), groupAt(forms, "/nothing"), groupAt(forms, "")]).toEqual(["Station", "", "Job"]);
});

test("the worst of an answer decides", () => {
	const need = (machine: string, verdict: string, reserve: number) => ({ machine, verdict, reserve });
	const zone = (name: string, mg: number, requirements: unknown[]) => ({
		name,
		main_cause: "drops",
		where: null,
		water_left_mg: { likely: mg },
		requirements,
	});
	const r = {
		formats: [
			{
				name: "a",
				stability: { slide: { factor: 2, needs: null }, held_back: { factor: 0.7, needs: "a guide" } },
				zones: [zone("seam", 5, [need("coder", "met", 3)]), zone("dome", 80, [need("packer", "undecided", 1.2), need("coder", "not met", 0.5)])],
			},
		],
	} as unknown as Result;
	expect(atMachine(r, "coder")).toEqual({ verdict: "not met", reserve: 0.5 });
	expect(atMachine(r, "packer")).toEqual({ verdict: "undecided", reserve: 1.2 });
	expect(atMachine(r, "wrapper")).toEqual({ verdict: "", reserve: null });
	expect(worst(r)).toMatchObject({ zone: "dome", reserve: 0.5, verdict: "not met" });
	expect(standing(r)).toMatchObject({ factor: 0.7, way: "held back", needs: "a guide" });
	expect(worst(null)).toBeNull();
	const close = {
		formats: [{ name: "a", zones: [zone("seam", 5, [need("coder", "met", 1.1)]), zone("dome", 80, [need("packer", "undecided", 1.3)])] }],
	};
	expect(worst(close as unknown as Result)).toMatchObject({ zone: "dome", verdict: "undecided" });
});

// "Not met" stood before the reason of the first format, which was undecided; another one decided.
test("the reason of an answer is that of the format that decides", () => {
	const format = (name: string, verdict: string, why: string) => ({
		name,
		why,
		zones: [{ name: "all", water_left_mg: {}, requirements: [{ machine: "packer", verdict, reserve: 1 }] }],
	});
	const r = { formats: [format("slim", "undecided", "drops at the dome"), format("large", "not met", "a pool")] } as unknown as Result;
	expect(reason(r)).toBe("large: a pool");
	expect(reason({ formats: r.formats.slice(0, 1) } as unknown as Result)).toBe("drops at the dome");
	expect(reason({ formats: [] } as unknown as Result)).toBe("");
});

// "Not met: most of the water left is drops at the sidewall" stood above a closure that decided, wet in its skirt.
test("the reason of an answer is that of the zone that decides", () => {
	const zone = (name: string, cause: string | null, part: number, reserve: number | null) => ({
		name,
		main_cause: cause,
		where: cause === "trapped water" ? "in the skirt" : null,
		water_left_mg: { likely: 2 * part },
		parts_mg: cause ? { [cause.replace(" ", "_")]: part } : {},
		requirements: reserve === null ? [] : [{ machine: "camera", verdict: reserve < 1 ? "not met" : "met", reserve }],
	});
	const of = (...zones: unknown[]) => reason({ formats: [{ name: "one", why: "drops at the sidewall", zones }] } as unknown as Result);
	const closure = zone("closure", "trapped water", 12.34, 0.4);
	expect(of(zone("sidewall", "drops", 300, 2), closure)).toBe(
		"the largest part of the water left at the closure is trapped water, in the skirt: 12 of 25 mg",
	);
	expect(of(zone("all", "drops", 300, 0.3), closure)).toBe("drops at the sidewall");
	expect(of(zone("all", "drops", 300, 3), zone("dome", null, 0, 2))).toBe("");
	expect(of(zone("all", "drops", 300, null), zone("dome", "pool", 0, 2))).toBe("the largest part of the water left at the dome is pool");
});

// "Not met: the largest part of the water left is drops" stood above containers that leave dry and tip.
test("the reason of an answer that is not of water is none of water", () => {
	const r = {
		verdict: "not met",
		formats: ["slim", "large"].map((name, i) => ({
			name,
			why: "drops",
			verdict: i ? "not met" : "met",
			stability: { slide: { factor: 0.2 }, tip: { factor: i ? 0.614 : 3 }, lift: { factor: 9 } },
			zones: [{ name: "all", water_left_mg: {}, requirements: [{ machine: "packer", verdict: "met", reserve: 2 }] }],
		})),
	};
	expect(reason(r as unknown as Result)).toBe("large: the air tips it, resistance over push 0.61");
	const limits = { ...r, formats: r.formats.map((f) => ({ ...f, stability: {} })) };
	expect(reason(limits as unknown as Result)).toBe("");
	expect(reason({ ...r, verdict: "met" } as unknown as Result)).toBe("slim: drops");
});

// A reserve of 1.3 stood in the block, 1.1 in the offer: one is of the nominal case alone, which nobody was told.
test("an answer says whether it is of the nominal case or of every case", () => {
	expect((["quick", "transport", "whole"] as const).map((d) => restsOn(d, false))).toEqual([
		"quick method, nominal case",
		"water followed over the wall, nominal case",
		"water followed over the wall, every case",
	]);
	expect(restsOn("transport", true)).toBe("while you drag, quick method");
});

test("a reserve below 1 never reads as 1", () => {
	expect([reserve(0.998), reserve(0.93), reserve(1.004), reserve(null)]).toEqual(["0.998", "0.93", "1.0", "–"]);
});

// A reserve of 40, which no search can tell, made a line at the foot of the drawing of what lies between 1 and 3.
test("a reserve of plenty is told as such, and leaves the others their scale", () => {
	expect([told(2.96, 3), told(3.04, 3), told(40, 3), told(0.998, 3), told(null, 3)]).toEqual(["2.96", "over 3", "over 3", "0.998", "–"]);
	expect([told(1.049, 3), told(1.0308, 3), told(3.7, Number.POSITIVE_INFINITY)]).toEqual(["1.05", "1.03", "3.70"]); // were 1.0 and 1.0
	expect([height(1.2, 3), height(null, 3)]).toEqual([1.2, null]);
	expect(height(40, 3)).toBeCloseTo(3.15);
	const front = (...reserves: number[]) => reserves.map((reserve) => ({ reserve })) as never;
	expect(ceiling(front(1.1, 40), 3)).toBeCloseTo(3.3);
	expect(ceiling(front(1.1, 2.9), 3)).toBeNaN();
	expect(ceiling(front(), 3)).toBeNaN();
});

// Three concepts of a trade-off had the same ring.
test("each shape of dot is another, about its place", () => {
	const all = [1, 2, 3, 4, 5].map((shape) => dot(shape, 10, 20, 4));
	expect(new Set(all).size).toBe(5);
	for (const d of all) {
		const at = [...d.matchAll(/([\d.]+) ([\d.]+)/g)].map((m) => Math.hypot(Number(m[1]) - 10, Number(m[2]) - 20));
		expect(Math.max(...at)).toBeLessThan(5.5);
	}
});

test("the push is the one nearest to the moment, its arrow never longer than the drawing", () => {
	const pass = {
		frames: [
			{ station: "one", x_mm: 9 },
			{ station: "two", x_mm: 0 },
		],
		pushes: [{ station: "one", x_mm: [0, 10, 20], along_n: [0, 2, 9], across_n: [0, 0, 0], up_n: [0, -1, 0], weight_n: 4 }],
	} as never;
	expect(pushAt(pass, 0)).toEqual({ along: 2, across: 0, up: -1, weight: 4 });
	expect(pushAt(pass, 1)).toBeNull();
	expect(pushAt(null, 0)).toBeNull();
	expect(arrow({ along: 2, across: 0, up: 0, weight: 4 })).toEqual([30, 0, 0]);
	expect(Math.hypot(...arrow({ along: 300, across: 400, up: 0, weight: 4 }))).toBeCloseTo(160);
});

test("places of an air network stand behind each other, ends below each other", () => {
	const b = (name: string, from: string, to: string) => ({ name, from, to, start_pa: 9, end_pa: 5 });
	const spots = places([b("duct", "blower", "wye"), b("a", "wye", "left"), b("b", "wye", "right")] as never);
	expect([...spots.values()].map((s) => [s.name, s.x, s.y])).toEqual([
		["blower", 0, 0.5],
		["wye", 1, 0.5],
		["left", 2, 0],
		["right", 2, 1],
	]);
	expect(places([b("round", "p", "q"), b("back", "q", "p")] as never).size).toBe(2);
	expect(places([]).size).toBe(0);
});

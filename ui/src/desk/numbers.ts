// Numbers as a person reads them, in SI or in US units.

export type Kind = "mm" | "m" | "m_s" | "pa" | "kpa" | "mg" | "g_m2" | "w" | "c" | "kg_s" | "m3_s" | "n" | "db" | "pct" | "kwh" | "plain" | "s";

interface Unit {
	unit: string;
	factor: number;
	offset?: number;
}

const si: Record<Kind, Unit> = {
	mm: { unit: "mm", factor: 1 },
	m: { unit: "m", factor: 1e-3 },
	m_s: { unit: "m/s", factor: 1 },
	pa: { unit: "kPa", factor: 1e-3 },
	kpa: { unit: "kPa", factor: 1 },
	mg: { unit: "mg", factor: 1 },
	g_m2: { unit: "g/m²", factor: 1 },
	w: { unit: "kW", factor: 1e-3 },
	c: { unit: "°C", factor: 1 },
	kg_s: { unit: "kg/s", factor: 1 },
	m3_s: { unit: "m³/min", factor: 60 },
	n: { unit: "N", factor: 1 },
	db: { unit: "dB(A)", factor: 1 },
	pct: { unit: "%", factor: 1 },
	kwh: { unit: "kWh", factor: 1 },
	plain: { unit: "", factor: 1 },
	s: { unit: "s", factor: 1 },
};

const us: Partial<Record<Kind, Unit>> = {
	mm: { unit: "in", factor: 1 / 25.4 },
	m: { unit: "ft", factor: 1 / 304.8 },
	m_s: { unit: "ft/min", factor: 60 / 0.3048 },
	pa: { unit: "psi", factor: 1 / 6894.757 },
	kpa: { unit: "psi", factor: 1000 / 6894.757 },
	c: { unit: "°F", factor: 1.8, offset: 32 },
	kg_s: { unit: "lb/min", factor: 60 / 0.45359237 },
	m3_s: { unit: "cfm", factor: 60 / 0.3048 ** 3 },
	n: { unit: "lbf", factor: 1 / 4.448222 },
};

export const nothing = "–";

export function unitOf(kind: Kind, inUS: boolean): Unit {
	return (inUS && us[kind]) || si[kind];
}

/** A number to a count of significant digits, without an exponent where a person would write none. */
export function digits(x: number | null | undefined, count = 3): string {
	if (x === null || x === undefined || !Number.isFinite(x)) return nothing;
	if (x === 0) return "0";
	const size = Math.abs(x);
	if (size >= 1e7 || size < 1e-4) return x.toExponential(count - 1).replace("e+", "e");
	const rounded = Number(x.toPrecision(count));
	const places = Math.max(0, count - 1 - Math.floor(Math.log10(Math.abs(rounded))));
	return size >= 1e4 ? rounded.toLocaleString("en-GB") : rounded.toFixed(Math.min(places, 8));
}

/** A reserve, or a resistance over a push: two digits, or as many as tell that it is below 1. */
export function reserve(x: number | null | undefined): string {
	let count = 2;
	while (count < 9 && x !== null && x !== undefined && x < 1 && Number(x.toPrecision(count)) >= 1) count++;
	return digits(x, count);
}

/** A quantity with its unit. */
export function show(kind: Kind, x: number | null | undefined, inUS: boolean, count = 3): string {
	if (x === null || x === undefined || !Number.isFinite(x)) return nothing;
	const u = unitOf(kind, inUS);
	return `${digits(x * u.factor + (u.offset ?? 0), count)}${u.unit ? ` ${u.unit}` : ""}`;
}

/** A sentence with its units as print has them, "44°" and "50 g/m²": those of the program are as they are typed. */
export function typeset(text: string): string {
	return text
		.replaceAll(/ deg([CF])\b/g, " °$1")
		.replaceAll(/ deg\b/g, "°")
		.replaceAll(/\b(m|cm|mm|ft|in)([23])\b/g, (_, unit, power) => unit + (power === "2" ? "²" : "³"))
		.replaceAll(/(^|[^\p{L}\p{M}])u(m|l|L|Pa)\b/gu, "$1µ$2");
}

/** A length as a drawing gives it: tenths of a millimetre or hundredths of an inch, no more figures than it has. */
export function size(mm: number, inUS: boolean): string {
	return inUS ? `${Math.round((mm / 25.4) * 100) / 100} in` : `${Math.round(mm * 10) / 10} mm`;
}

/** A likely value with its band, two significant figures as every amount of water. */
export function band(kind: Kind, b: { likely: number | null; low: number | null; high: number | null } | null | undefined, inUS: boolean): string {
	if (!b || b.likely === null) return nothing;
	const u = unitOf(kind, inUS);
	const f = (x: number | null) => digits(x === null ? null : x * u.factor + (u.offset ?? 0), 2);
	return `${f(b.likely)} ${u.unit} (${f(b.low)} to ${f(b.high)})`;
}

export function money(x: number | null | undefined, currency: string | null): string {
	if (x === null || x === undefined || !Number.isFinite(x)) return nothing;
	return `${Number(x.toPrecision(3)).toLocaleString("en-GB", { maximumFractionDigits: 0 })} ${currency ?? ""}`.trim();
}

/** What a written quantity is in the other units, for the hint under a field; empty where there is none. */
export function inOther(text: string, inUS: boolean): string {
	const m = /^\s*([-+]?\d+(?:[.,]\d+)?)\s*(mm|m\/s|kPa|degC|in|psi|degF|ft\/min)\s*$/.exec(text);
	if (!m?.[1] || !m[2]) return "";
	const x = Number(m[1].replace(",", "."));
	const kinds: Record<string, Kind> = { mm: "mm", "m/s": "m_s", kPa: "kpa", degC: "c" };
	const kind = kinds[m[2]];
	if (inUS && kind) return show(kind, x, true, 4);
	if (!inUS && !kind) {
		const back: Record<string, [Kind, (v: number) => number]> = {
			in: ["mm", (v) => v * 25.4],
			psi: ["kpa", (v) => v * 6.894757],
			degF: ["c", (v) => (v - 32) / 1.8],
			"ft/min": ["m_s", (v) => (v * 0.3048) / 60],
		};
		const to = back[m[2]];
		return to ? show(to[0], to[1](x), false, 4) : "";
	}
	return "";
}

// How the file writes its lengths: what a hand moves is written in the unit that its value has, and as finely.

/** A unit of length: in millimetres, how finely a value in it is written, and by what a hand goes [mm]. */
interface Unit {
	mm: number;
	places: number;
	grid: number;
}

const inch = { mm: 25.4, places: 2, grid: 0.05 * 25.4 };
const foot = { mm: 304.8, places: 3, grid: 0.01 * 304.8 };
const micron = { mm: 1e-3, places: 0, grid: 1 };
const units: Record<string, Unit> = {
	mm: { mm: 1, places: 1, grid: 1 },
	cm: { mm: 10, places: 2, grid: 1 },
	m: { mm: 1000, places: 4, grid: 1 },
	um: micron,
	micron,
	in: inch,
	inch,
	inches: inch,
	ft: foot,
	feet: foot,
	foot,
	yd: { mm: 914.4, places: 4, grid: 0.01 * 914.4 },
	mil: { mm: 0.0254, places: 0, grid: inch.grid },
	thou: { mm: 0.0254, places: 0, grid: inch.grid },
};

const quantity = /^\s*([-+]?)(?:(\d+)\s+)?(\d+(?:[.,]\d+)?)(?:\/(\d+))?\s*([a-z]+)\s*$/;

/** A length as a file writes it: its value [mm], its unit, its digits after the point. */
interface Said {
	mm: number;
	unit: string;
	own: number;
}

function said(text: unknown): Said | null {
	const m = typeof text === "string" ? quantity.exec(text) : null;
	const u = m?.[5] ? units[m[5]] : undefined;
	if (!m?.[3] || !m[5] || !u || (m[2] && !m[4])) return null;
	const x = Number(m[2] ?? 0) + Number(m[3].replace(",", ".")) / Number(m[4] ?? 1);
	return { mm: (m[1] === "-" ? -x : x) * u.mm, unit: m[5], own: /[.,](\d+)$/.exec(m[3])?.[1]?.length ?? 0 };
}

/** Millimetres of a length as the job file writes it; null where it says none. */
export const millimetres = (text: unknown): number | null => said(text)?.mm ?? null;

/** How one length of the file is written. */
export interface Spelt {
	grid: number; // by what a hand moves it [mm]
	write: (mm: number) => string;
}

/** Tells of each path of a job how a length there is written: as it stands there, or else as its key is written elsewhere, or as most of the file is. */
export function spelling(value: (path: string) => unknown, system: string): (path: string) => Spelt {
	return (path) => {
		const here = said(value(path)) ?? elsewhere(value(""), keys(path)) ?? { mm: 0, unit: system === "us" ? "in" : "mm", own: 0 };
		const u = units[here.unit] as Unit;
		const most = Math.max(u.places, Math.min(here.own, u.places + 2));
		return {
			grid: u.grid,
			write: (mm) => {
				const x = Number((mm / u.mm).toFixed(most));
				const digits = /\.(\d+)$/.exec(String(x))?.[1]?.length ?? 0;
				return `${digits < here.own ? x.toFixed(Math.min(here.own, most)) : x} ${here.unit}`;
			},
		};
	};
}

const keys = (path: string): string[] => path.split("/").filter((s) => s && !/^\d+$/.test(s));

/** The first length under the same keys, whatever the places in lists; with the digits that its unit has. */
function elsewhere(values: unknown, way: string[]): Said | null {
	if (Array.isArray(values)) {
		for (const v of values) {
			const found = elsewhere(v, way);
			if (found) return found;
		}
		return null;
	}
	const [key, ...rest] = way;
	if (key === undefined) {
		const found = said(values);
		return found && { ...found, own: 0 };
	}
	return values !== null && typeof values === "object" ? elsewhere((values as Record<string, unknown>)[key], rest) : null;
}

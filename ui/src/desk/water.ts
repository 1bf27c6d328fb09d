// Colours of water left: steps of 1, 2, 5 along a ramp that is even to the eye, from dry paper to deep water.

type Lab = [number, number, number];

const polar = (l: number, c: number, h: number): Lab => [l, c * Math.cos((h * Math.PI) / 180), c * Math.sin((h * Math.PI) / 180)];

const through: Lab[] = [polar(0.965, 0.012, 95), polar(0.86, 0.06, 205), polar(0.7, 0.11, 230), polar(0.5, 0.13, 252), polar(0.27, 0.095, 272)];

export type Colour = [number, number, number];

/** sRGB, 0 to 255, of a colour in Oklab. */
function shown([l, a, b]: Lab): Colour {
	const L = (l + 0.3963377774 * a + 0.2158037573 * b) ** 3;
	const M = (l - 0.1055613458 * a - 0.0638541728 * b) ** 3;
	const S = (l - 0.0894841775 * a - 1.291485548 * b) ** 3;
	return [
		4.0767416621 * L - 3.3077115913 * M + 0.2309699292 * S,
		-1.2684380046 * L + 2.6097574011 * M - 0.3413193965 * S,
		-0.0041960863 * L - 0.7034186147 * M + 1.707614701 * S,
	].map((x) => {
		const v = Math.min(1, Math.max(0, x));
		return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
	}) as Colour;
}

/** n colours with the same distance by eye from each to the next. */
export function ramp(n: number): Colour[] {
	const fine = 400;
	const path: Lab[] = [];
	const far: number[] = [0];
	for (let i = 0; i <= fine; i++) {
		const at = (i / fine) * (through.length - 1);
		const k = Math.min(Math.floor(at), through.length - 2);
		const [p, q] = [through[k] as Lab, through[k + 1] as Lab];
		const t = at - k;
		path.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]), p[2] + t * (q[2] - p[2])]);
		if (i > 0) {
			const [u, v] = [path[i - 1] as Lab, path[i] as Lab];
			far.push((far[i - 1] as number) + Math.hypot(v[0] - u[0], v[1] - u[1], v[2] - u[2]));
		}
	}
	const whole = far[fine] as number;
	return Array.from({ length: n }, (_, i) => {
		const want = (whole * i) / Math.max(n - 1, 1);
		const k = far.findIndex((f) => f >= want - 1e-12);
		return shown(path[k < 0 ? fine : k] as Lab);
	});
}

export interface Scale {
	limits: number[]; // g/m2, each the top of a class
	colours: Colour[]; // one more than limits
}

const classes = 8;
const step = (k: number) => [1, 2, 5][((k % 3) + 3) % 3] as number;
const stepAt = (k: number) => step(k) * 10 ** Math.floor(k / 3);

/** The scale whose last limit is the first step of 1, 2, 5 not below the greatest water [g/m2]. */
export function scaleFor(most: number): Scale {
	const top = most > 0 && Number.isFinite(most) ? most : 1;
	let last = 3 * Math.floor(Math.log10(top));
	while (stepAt(last) < top * (1 - 1e-9)) last++;
	const limits = Array.from({ length: classes }, (_, i) => Number(stepAt(last - classes + 1 + i).toPrecision(1)));
	return { limits, colours: ramp(classes + 1) };
}

/** Class of an amount of water. */
export function classOf(scale: Scale, water: number): number {
	let k = 0;
	while (k < scale.limits.length && water > (scale.limits[k] as number)) k++;
	return k;
}

/** Numbers that were packed as 32-bit floats in base 64. */
export function unpack(text: string): Float32Array {
	const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
	return new Float32Array(bytes.buffer, 0, bytes.byteLength >> 2);
}

/** The greatest of numbers that are known. */
export function greatest(water: Float32Array): number {
	let most = 0;
	for (const w of water) if (w > most) most = w;
	return most;
}

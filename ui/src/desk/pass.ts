// What the air does to the whole container at a moment of its pass.
import type { Pass } from "../api/client.ts";

export interface Push {
	along: number; // [N] with travel
	across: number; // to the left
	up: number;
	weight: number; // of the container
}

/** The push at the moment of a frame; null where the pass records none. */
export function pushAt(pass: Pass | null, moment: number): Push | null {
	const frame = pass?.frames[moment];
	const p = frame && pass?.pushes.find((q) => q.station === frame.station);
	if (!frame || !p || p.x_mm.length === 0) return null;
	const off = (k: number) => Math.abs((p.x_mm[k] ?? 0) - (frame.x_mm ?? 0));
	let k = 0;
	for (let i = 1; i < p.x_mm.length; i++) if (off(i) < off(k)) k = i;
	return { along: p.along_n[k] ?? 0, across: p.across_n[k] ?? 0, up: p.up_n[k] ?? 0, weight: p.weight_n ?? Number.NaN };
}

/** Length of the arrow of a push for each axis [mm]: a push as large as the weight is 60 mm. */
export function arrow(p: Push): [number, number, number] {
	const scale = 60 / Math.max(p.weight || 1, 0.1);
	const v: [number, number, number] = [p.along * scale, p.across * scale, p.up * scale];
	const long = Math.hypot(...v);
	return long > 160 ? (v.map((c) => (c * 160) / long) as [number, number, number]) : v;
}

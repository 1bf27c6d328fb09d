// The values of a job by their paths, and what things in it are called.
import type { Forms, Job } from "../api/client.ts";

export const steps = (path: string): string[] => path.split("/").filter(Boolean);

/** The value at a path, as the file writes it; undefined where it has none. */
export function valueAt(job: Job | null, path: string): unknown {
	let v: unknown = job?.values;
	for (const s of steps(path)) {
		if (v === null || typeof v !== "object") return undefined;
		v = Array.isArray(v) ? v[Number(s)] : (v as Record<string, unknown>)[s];
	}
	return v;
}

/** The name of the group of forms that describes a path, "" for none. */
export function groupAt(forms: Forms, path: string): string {
	let name = forms.root;
	for (const s of steps(path)) {
		if (/^\d+$/.test(s)) continue;
		const f = forms.groups[name]?.fields.find((x) => x.key === s);
		if (!f?.group) return "";
		name = f.group;
	}
	return name;
}

export const words = (key: string) => key.replaceAll("_", " ");

/** What a thing of the job is called on the screen. */
export function titleOf(job: Job | null, path: string): string {
	const way = steps(path);
	if (way.length === 0) return "Job";
	const last = way[way.length - 1] as string;
	if (!/^\d+$/.test(last)) return words(last);
	const v = valueAt(job, path) as Record<string, unknown> | undefined;
	const name = v?.name ?? v?.machine ?? v?.kind;
	if (typeof name === "string" && name) return name;
	const list = words(way[way.length - 2] ?? "").replace(/s$/, "");
	return `${list} ${Number(last) + 1}`;
}

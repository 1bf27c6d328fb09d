// The one door to the server: a client typed by the description of its operations.
import createClient from "openapi-fetch";
import type { components, paths } from "./schema.d.ts";

type Schemas = components["schemas"];
export type Job = Schemas["Job"];
export type Edit = Schemas["Edit"];
export type Fault = Schemas["Fault"];
export type Problem = Schemas["Problem"];
export type Answer = Schemas["Answer"];
export type Result = Schemas["AnswerResult"];
export type FormatResult = Schemas["AnswerFormat"];
export type Requirement = Schemas["AnswerRequirement"];
export type Band = Schemas["AnswerBand"];
export type Tried = Schemas["Tried"];
export type Scene = Schemas["ViewScene"];
export type Station = Schemas["ViewStation"];
export type Outlet = Schemas["ViewOutlet"];
export type Rail = Schemas["ViewRail"];
export type Wall = Schemas["ViewWall"];
export type Pass = Schemas["ViewPass"];
export type Forms = Schemas["FormSchema"];
export type Field = Schemas["FormField"];
export type Air = Schemas["Air"];
export type Search = Schemas["Search"];
export type Papers = Schemas["Papers"];
export type Question = Schemas["Question"];
export type Reply = Schemas["Reply"];
export type Card = Schemas["RelationCard"];
export type Note = Schemas["AnswerNote"];
export type Family = Schemas["Family"];
export type JobEntry = Schemas["JobEntry"];
export type OptionsTable = Schemas["OptionsTable"];
export type About = Schemas["About"];

/** A word that tells this tab from others. */
export const tab = Math.random().toString(36).slice(2, 10);

// Nothing is kept by the browser: its cache would hold a request back while another to the same address is on its way,
// and so keep a person from stopping an answer.
export const api = createClient<paths>({ baseUrl: "/", cache: "no-store" });

/** What an operation refused, with the server's words. */
export class Refused extends Error {
	readonly fault: Fault;
	constructor(fault: Fault) {
		super(fault.text);
		this.fault = fault;
	}
}

/** The server could not be reached. */
export class Unreachable extends Error {}

/** Waits for an operation: its data, or an error that is Refused or Unreachable. */
export async function ask<T>(reply: Promise<{ data?: T; error?: unknown; response: Response }>): Promise<T> {
	let r: { data?: T; error?: unknown; response: Response };
	try {
		r = await reply;
	} catch (e) {
		if (e instanceof DOMException && e.name === "AbortError") throw e;
		throw new Unreachable("The desk's program does not answer. Is it still running?");
	}
	if (r.error !== undefined || !r.response.ok) {
		const f = r.error as Partial<Fault> | undefined;
		throw new Refused({
			status: r.response.status,
			code: f?.code ?? "internal",
			text: f?.text ?? `The program answered with status ${r.response.status}`,
			problems: f?.problems ?? [],
			job: f?.job ?? null,
			disk_text: f?.disk_text ?? null,
		});
	}
	return r.data as T;
}

/** Whether an error only says that something newer took the place of a question. */
export function superseded(e: unknown): boolean {
	return (e instanceof DOMException && e.name === "AbortError") || (e instanceof Refused && e.fault.code === "stale");
}

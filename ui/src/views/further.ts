// The views beside the line: name and page of each.
import type { Component } from "svelte";
import type { View } from "../desk/address.svelte.ts";
import type { Session } from "../desk/session.svelte.ts";
import Air from "./Air.svelte";
import Asking from "./Asking.svelte";
import Cost from "./Cost.svelte";
import Options from "./Options.svelte";
import Papers from "./Papers.svelte";
import Questions from "./Questions.svelte";
import Relations from "./Relations.svelte";
import Search from "./Search.svelte";

export interface Further {
	name: string;
	view: Component<{ session: Session }>;
}

export const further: Partial<Record<View, Further>> = {
	asking: { name: "Answer and what to ask", view: Asking },
	air: { name: "Air supply", view: Air },
	cost: { name: "Running cost", view: Cost },
	options: { name: "Options", view: Options },
	search: { name: "Search", view: Search },
	papers: { name: "Documents", view: Papers },
	questions: { name: "Questions", view: Questions },
	relations: { name: "Relations", view: Relations },
};

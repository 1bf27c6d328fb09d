// The views beside the line: name and page of each.
import type { Component } from "svelte";
import type { View } from "../desk/address.svelte.ts";
import type { Session } from "../desk/session.svelte.ts";

export interface Further {
	name: string;
	view: Component<{ session: Session }>;
}

export const further: Partial<Record<View, Further>> = {};

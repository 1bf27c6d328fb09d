// The job that is open: its text as the server holds it, its answers, its drawing, and the edits on their way.
// The file is the truth; what is here is replaced whenever the server says that it changed.
import {
	type Answer,
	api,
	ask,
	type Edit,
	type Job,
	type Pass,
	Refused,
	type Scene,
	superseded,
	type Tried,
	tab,
	Unreachable,
	type Wall,
} from "../api/client.ts";
import { type Spelt, spelling } from "./spelling.ts";
import { valueAt } from "./tree.ts";

export type Depth = "quick" | "transport" | "whole";

interface Says {
	text: string;
	again?: () => void; // what the person meant, to be done on the job as it is now
}

export class Session {
	readonly id: string;
	job = $state.raw<Job | null>(null);
	answers = $state.raw<Partial<Record<Depth, Answer>>>({});
	scene = $state.raw<Scene | null>(null);
	wall = $state.raw<Wall | null>(null);
	pass = $state.raw<Pass | null>(null);
	trial = $state.raw<Tried | null>(null);
	says = $state.raw<Says | null>(null);
	offline = $state(false);
	working = $state(""); // what is being calculated, "" for nothing
	done = $state(0); // of it [%]
	moment = $state(-1); // frame of the pass that is shown; -1 is what is left after it
	format = $state("");
	#stream: EventSource | null = null;
	#abort = new AbortController();
	#edits: Promise<unknown> = Promise.resolve();
	#trying = false;
	#depth: Depth = "quick"; // being calculated
	#wanted: Edit[] | null = null;
	kept = $state.raw<(() => unknown)[]>([]); // steps made while the program was away, in their order

	constructor(id: string, format: string) {
		this.id = id;
		this.format = format;
	}

	/** The best answer to the job as it stands, or to the trial while something is dragged. */
	get answer(): Answer | null {
		return this.trial?.answer ?? this.best;
	}

	get best(): Answer | null {
		const fresh = (["whole", "transport", "quick"] as const).map((d) => this.answers[d]).filter((a) => a !== undefined);
		return fresh.find((a) => a.revision === this.job?.revision) ?? fresh.at(-1) ?? null;
	}

	/** Whether the shown answer is of an older text. */
	get stale(): boolean {
		return !this.trial && this.best !== null && this.best.revision !== this.job?.revision;
	}

	get drawn(): Scene | null {
		return this.trial?.scene ?? this.scene;
	}

	get shownWall(): Wall | null {
		return this.trial?.wall ?? this.wall;
	}

	value = (path: string): unknown => valueAt(this.job, path);

	/** How a length of the job is written. */
	spelt = (path: string): Spelt => spelling(this.value, this.job?.units ?? "si")(path);

	async open(): Promise<void> {
		document.addEventListener("visibilitychange", this.#seen);
		this.#listen();
		await this.reload();
	}

	close(): void {
		document.removeEventListener("visibilitychange", this.#seen);
		this.#stream?.close();
		this.#abort.abort();
	}

	/** A browser gives a program six lines at most: a tab that nobody sees gives its own back and asks again when seen. */
	#seen = (): void => {
		if (document.hidden) {
			this.#stream?.close();
			this.#stream = null;
		} else if (!this.#stream) {
			this.#listen();
		}
	};

	#listen(): void {
		const stream = new EventSource(`/api/jobs/${encodeURIComponent(this.id)}/events?tab=${tab}`);
		this.#stream = stream;
		stream.addEventListener("changed", (e) => {
			const c = JSON.parse((e as MessageEvent).data) as { revision: string; disk: Job["disk"]; tab: string; step: string };
			const back = this.offline;
			this.offline = false;
			if (this.job && (c.revision !== this.job.revision || c.disk !== this.job.disk || back)) void this.#edits.then(() => this.#follow(c));
		});
		stream.addEventListener("progress", (e) => {
			const p = JSON.parse((e as MessageEvent).data) as { done_pct: number; revision: string };
			if (p.revision === this.job?.revision) this.done = p.done_pct;
		});
		stream.onerror = () => {
			this.offline = true;
			if (stream.readyState !== EventSource.CLOSED) return;
			setTimeout(() => this.#stream === stream && this.#listen(), 2000);
		};
	}

	/** Takes over a change that somebody else made: another tab, or another program in the file. */
	async #follow(c: { revision: string; disk: string; tab: string }): Promise<void> {
		if (c.revision === this.job?.revision && c.disk === this.job.disk) return;
		await this.reload();
	}

	async reload(): Promise<void> {
		try {
			this.#take(await ask(api.GET("/api/jobs/{job}", { params: { path: { job: this.id } } })));
		} catch (e) {
			this.#fail(e);
		}
	}

	/** A new text: everything that follows from the old one is asked again. */
	#take(job: Job): void {
		const same = job.revision === this.job?.revision && this.answers.quick?.revision === job.revision;
		this.job = job;
		if (!same) void this.#refresh();
	}

	async #refresh(): Promise<void> {
		this.#abort.abort();
		this.#abort = new AbortController();
		const { signal } = this.#abort;
		this.moment = -1;
		this.pass = null;
		if (this.job?.problems.length) {
			this.working = "";
			this.trial = null;
			return;
		}
		try {
			const quick = this.#ask("quick", signal);
			const followed = this.#ask("transport", signal); // the server begins it once the quick answer is there
			followed.catch(() => {}); // awaited below
			const [scene] = await Promise.all([this.#drawing(signal), this.#deepen("quick", signal, quick)]);
			this.scene = scene;
			this.trial = null;
			if (!this.format) this.format = this.scene.format;
			await this.#deepen("transport", signal, followed);
		} catch (e) {
			if (!signal.aborted) {
				this.trial = null;
				this.#fail(e);
			}
		}
	}

	#ask(depth: Depth, signal: AbortSignal): Promise<Answer> {
		return ask(api.GET("/api/jobs/{job}/answer", { params: { path: { job: this.id }, query: { depth } }, signal }));
	}

	async #deepen(depth: Depth, signal: AbortSignal, asked = this.#ask(depth, signal)): Promise<void> {
		this.#depth = depth;
		this.working = depth === "quick" ? "quick answer" : depth === "transport" ? "following the water" : "every case";
		this.done = 0;
		try {
			const path = { job: this.id };
			const answer = await asked;
			const query = { depth, format: this.format || undefined };
			const wall = answer.result.formats.length ? await ask(api.GET("/api/jobs/{job}/wall", { params: { path, query }, signal })) : null;
			if (signal.aborted) return;
			this.answers = { ...this.answers, [depth]: answer };
			this.wall = wall;
		} finally {
			if (!signal.aborted && this.#depth === depth) this.working = "";
		}
	}

	#drawing(signal: AbortSignal): Promise<Scene> {
		return ask(api.GET("/api/jobs/{job}/scene", { params: { path: { job: this.id }, query: { format: this.format || undefined } }, signal }));
	}

	/** Shows another format. */
	async show(format: string): Promise<void> {
		this.format = format;
		await this.#refresh();
	}

	/** Asks for every case, what matters and what would help. */
	async whole(): Promise<void> {
		if (!this.job || this.job.problems.length || this.answers.whole?.revision === this.job.revision) return;
		const { signal } = this.#abort;
		try {
			await this.#deepen("whole", signal);
		} catch (e) {
			if (!signal.aborted) this.#fail(e);
		}
	}

	/** Gives up what is being calculated; what was answered stays. */
	async stop(): Promise<void> {
		const depth = this.#depth;
		await ask(api.DELETE("/api/jobs/{job}/answer", { params: { path: { job: this.id }, query: { depth } } })).catch(() => {}); // it may have ended by itself
	}

	async loadPass(): Promise<void> {
		if (this.pass || this.job?.problems.length) return;
		const { signal } = this.#abort;
		try {
			const pass = await ask(
				api.GET("/api/jobs/{job}/pass", { params: { path: { job: this.id }, query: { format: this.format || undefined } }, signal }),
			);
			if (!signal.aborted) this.pass = pass;
		} catch (e) {
			if (!signal.aborted) this.#fail(e);
		}
	}

	/** Changes the job by one named step. Resolves to what the server found wrong with it, null when it was made. */
	edit(step: string, edits: Edit[], merge?: string): Promise<Refused | null> {
		return this.#change(
			() => ask(api.PATCH("/api/jobs/{job}", { params: this.#now(), body: { step, edits, ...(merge ? { merge } : {}) } })),
			() => this.edit(step, edits, merge),
		);
	}

	undo(): Promise<Refused | null> {
		return this.#change(() => ask(api.POST("/api/jobs/{job}/undo", { params: this.#now() })));
	}

	redo(): Promise<Refused | null> {
		return this.#change(() => ask(api.POST("/api/jobs/{job}/redo", { params: this.#now() })));
	}

	settle(keep: "file" | "desk"): Promise<Refused | null> {
		return this.#change(() => ask(api.POST("/api/jobs/{job}/settle", { params: this.#now(), body: { keep } })));
	}

	adopt(concept: string): Promise<Refused | null> {
		return this.#change(() => ask(api.POST("/api/jobs/{job}/search/adopt", { params: this.#now(), body: { concept } })));
	}

	take(option: number): Promise<Refused | null> {
		return this.#change(() => ask(api.POST("/api/jobs/{job}/options/take", { params: this.#now(), body: { option } })));
	}

	#now() {
		return { path: { job: this.id }, query: { tab }, header: { "If-Match": this.job?.revision ?? "" } };
	}

	/** One change after the other, each on the text that the one before it left. */
	#change(make: () => Promise<Job>, again?: () => unknown): Promise<Refused | null> {
		const next = this.#edits.then(async () => {
			try {
				this.#take(await make());
				this.says = null;
				return null;
			} catch (e) {
				this.trial = null;
				if (e instanceof Refused && e.fault.code === "revision") {
					if (e.fault.job) this.#take(e.fault.job);
					this.says = { text: "The job was changed elsewhere at the same moment; your step was not made.", again: again && (() => void again()) };
					return e;
				}
				if (e instanceof Refused && e.fault.code === "disk") {
					if (e.fault.job) this.#take(e.fault.job);
					return e;
				}
				if (e instanceof Refused && e.fault.code === "problems") return e;
				this.#fail(e, again);
				return e instanceof Refused ? e : null;
			}
		});
		this.#edits = next;
		return next;
	}

	/** Answers the job as some edits would make it, while a hand still moves; only the latest counts. */
	async tryEdits(edits: Edit[]): Promise<void> {
		this.#wanted = edits;
		if (this.#trying) return;
		this.#trying = true;
		while (this.#wanted) {
			const body = { edits: this.#wanted, depth: "quick" as const, wall: true, format: this.format };
			this.#wanted = null;
			try {
				const tried = await ask(api.POST("/api/jobs/{job}/try", { params: { path: { job: this.id }, query: { tab } }, body }));
				if (tried.answer && tried.scene) this.trial = tried;
				this.says = tried.problems[0] ? { text: tried.problems[0].text } : null;
			} catch (e) {
				this.#fail(e);
			}
		}
		this.#trying = false;
	}

	/** Ends a trial without keeping it. */
	letGo(): void {
		this.#wanted = null;
		this.trial = null;
		this.says = null;
	}

	/** Makes the steps that were kept while the program was away. */
	async makeKept(): Promise<void> {
		const kept = this.kept;
		this.kept = [];
		for (const step of kept) await step();
	}

	dropKept(): void {
		this.kept = [];
	}

	#fail(e: unknown, again?: () => unknown): void {
		if (superseded(e)) return;
		if (e instanceof Unreachable) {
			this.offline = true;
			this.says = null;
			if (again) this.kept = [...this.kept, again];
			return;
		}
		if (e instanceof Refused) {
			const first = e.fault.problems[0]?.text;
			this.says = { text: first && first !== e.fault.text ? `${e.fault.text}: ${first}` : e.fault.text, again: again && (() => void again()) };
			return;
		}
		this.says = { text: e instanceof Error ? e.message : String(e) };
	}
}

// A driver of the desk in the words of the job: it starts the program on a folder of its own and a browser on it.
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import axe from "axe-core";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";

const root = resolve(import.meta.dirname, "../..");
const program = process.env.LESTE ?? join(root, "bin/leste");
const chromiums = [process.env.CHROMIUM ?? "", "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];
const found = chromiums.find((c) => c && existsSync(c));

/** Why the tests cannot run here, "" when they can. */
export const missing = !existsSync(program)
	? `${program} is missing: run make build, or set LESTE`
	: !found
		? "there is no Chromium: install it, or set CHROMIUM"
		: "";

export class Desk {
	readonly folder: string;
	url = "";
	#program: ChildProcess | null = null;
	#browser: Browser | null = null;
	#context: BrowserContext | null = null;
	faults: string[] = []; // of the pages: errors, and what the policy forbade

	constructor() {
		this.folder = mkdtempSync(join(tmpdir(), "desk-"));
	}

	/** Puts an example into the folder under a name. */
	file(name: string, example = "can-330-sidewall"): string {
		const path = join(this.folder, name);
		writeFileSync(path, readFileSync(join(root, "examples", `${example}.yaml`)));
		return path;
	}

	async start(port = 0): Promise<void> {
		const args = ["serve", "--no-browser", ...(port ? ["--port", String(port)] : []), this.folder];
		const p = spawn(program, args, { stdio: ["ignore", "pipe", "inherit"] });
		this.#program = p;
		this.url = await new Promise<string>((done, fail) => {
			let text = "";
			p.stdout?.on("data", (d) => {
				text += d;
				const m = /http:\/\/\S+/.exec(text);
				if (m) done(m[0]);
			});
			p.once("exit", (code) => fail(new Error(`leste serve ended with ${code}: ${text}`)));
		});
	}

	/** Ends the program; the pages stay open. */
	async stop(): Promise<number> {
		const port = Number(new URL(this.url).port);
		const p = this.#program;
		this.#program = null;
		if (p && p.exitCode === null) {
			const gone = new Promise((done) => p.once("exit", done));
			p.kill("SIGINT");
			await gone;
		}
		return port;
	}

	async close(): Promise<void> {
		await this.#browser?.close();
		await this.stop();
		rmSync(this.folder, { recursive: true, force: true });
	}

	/** Opens a page of the desk; a first visit has the tour. */
	async open(query = "", options: { first?: boolean; width?: number; height?: number } = {}): Promise<Sheet> {
		this.#browser ??= await chromium.launch({ executablePath: found, args: ["--no-sandbox", "--use-gl=swiftshader", "--enable-unsafe-swiftshader"] });
		this.#context ??= await this.#browser.newContext({ acceptDownloads: true });
		const page = await this.#context.newPage();
		await page.setViewportSize({ width: options.width ?? 1280, height: options.height ?? 800 });
		page.on("pageerror", (e) => this.faults.push(e.message));
		page.on("console", (m) => {
			if (/Content Security Policy/.test(m.text())) this.faults.push(m.text());
		});
		page.on("request", (r) => {
			if (!/^(data|blob|chrome|chrome-extension):/.test(r.url()) && !r.url().startsWith(this.url))
				this.faults.push(`a request left the machine: ${r.url()}`);
		});
		if (!options.first) await page.addInitScript(() => globalThis.top === globalThis.self && localStorage.setItem("toured", "yes"));
		await page.goto(this.url + query);
		return new Sheet(page);
	}
}

/** A page of the desk. */
export class Sheet {
	readonly page: Page;
	constructor(page: Page) {
		this.page = page;
	}

	text = async (what: string): Promise<string> => ((await this.page.locator(`[data-test=${what}]`).textContent()) ?? "").trim();
	verdict = () => this.text("verdict");
	water = () => this.text("water");

	/** Waits for an answer that rests on a method. */
	async answered(method: "quick method" | "followed over the wall" = "followed over the wall"): Promise<void> {
		await this.page.getByLabel("Answer", { exact: true }).getByText(method).waitFor({ timeout: 60_000 });
	}

	async view(name: string): Promise<void> {
		await this.page.getByRole("navigation", { name: "Views" }).getByRole("button", { name, exact: true }).click();
	}

	outlet = (name: string) => this.page.locator(`[data-outlet="${name}"][data-sheet=plan]`);

	/** Drags an outlet in the plan by pixels, with a look in between; does not let go when told so. */
	async drag(name: string, dx: number, dy: number, release = true): Promise<void> {
		const box = await this.outlet(name).locator(".solid").first().boundingBox();
		if (!box) throw new Error(`${name} is not drawn`);
		const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
		await this.page.mouse.move(x, y);
		await this.page.mouse.down();
		for (let i = 1; i <= 6; i++) {
			await this.page.mouse.move(x + (dx * i) / 6, y + (dy * i) / 6);
			await this.page.waitForTimeout(30);
		}
		if (release) await this.page.mouse.up();
	}

	/** Opens the form of an outlet. */
	async choose(name: string): Promise<void> {
		await this.outlet(name).click();
		await this.page.getByRole("region", { name: `Form of ${name}` }).waitFor();
	}

	field = (name: string) => this.page.getByLabel(name, { exact: true });

	/** Types a value into a field of the open form. */
	async type(field: string, value: string): Promise<void> {
		await this.field(field).fill(value);
		await this.field(field).press("Enter");
	}

	/** Name of the step that undo takes back, "" for none. */
	async step(): Promise<string> {
		return (await this.text("undo")).replace(/^Undo:? ?/, "");
	}

	async waitForStep(step: string): Promise<void> {
		await this.page
			.locator("[data-test=undo]")
			.getByText(step ? `Undo: ${step}` : /^Undo$/)
			.waitFor({ timeout: 20_000 });
	}

	/** Texts that are cut off at an edge, and what reaches out of the window. */
	async cut(): Promise<string[]> {
		return this.page.evaluate(() => {
			const out: string[] = [];
			for (const e of document.querySelectorAll<HTMLElement>("body *")) {
				const box = e.getBoundingClientRect();
				if (box.width === 0 || e.closest("svg, .hidden, .scroll, [title]") || e.matches("input, textarea")) continue; // a title tells all of it
				const said = `${e.tagName} ${e.className}: ${e.textContent?.trim().slice(0, 60)}`;
				if (box.right > innerWidth + 1) out.push(`out of the window: ${said}`);
				const flows = getComputedStyle(e).display === "inline";
				if (!flows && getComputedStyle(e).overflowX !== "visible" && e.scrollWidth > e.clientWidth + 1) out.push(`cut off: ${said}`);
			}
			return out;
		});
	}

	/** What a reader with special needs would stumble over. */
	async barriers(): Promise<string[]> {
		await this.page.evaluate(axe.source);
		return this.page.evaluate(async () => {
			// biome-ignore lint/suspicious/noExplicitAny: axe is put into the page as a script
			const r = await (globalThis as any).axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] });
			return r.violations.map(
				(v: { id: string; nodes: { html: string }[] }) =>
					`${v.id}: ${v.nodes
						.map((n) => n.html.slice(0, 120))
						.slice(0, 3)
						.join(" | ")}`,
			);
		});
	}
}

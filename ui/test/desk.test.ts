// The desk in a real browser, in the words of the job.
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { Desk, missing } from "./desk.ts";

if (missing) console.warn(`skipped: ${missing}`);

describe.skipIf(missing !== "")("the desk", { timeout: 120_000 }, () => {
	let desk: Desk;
	beforeEach(async () => {
		desk = new Desk();
		desk.file("line.yaml");
		await desk.start();
	}, 30_000);
	afterEach(async () => {
		await desk.close();
		expect(desk.faults).toEqual([]);
	}, 30_000);

	test("a first visit opens the demonstration, computed, with a tour that can be skipped", async () => {
		const s = await desk.open("", { first: true });
		await s.answered();
		expect(await s.verdict()).toMatch(/^(met|not met|undecided)$/);
		await s.page.getByRole("button", { name: "Next", exact: true }).click();
		await s.page.getByText("2 of 3").waitFor();
		expect(await s.barriers()).toEqual([]);
		await s.page.getByRole("button", { name: "Skip" }).click();
		expect(await s.page.getByLabel("A short tour").count()).toBe(0);
		await s.page.reload();
		await s.answered();
		expect(await s.page.getByLabel("A short tour").count()).toBe(0);
	});

	test("numbers on the screen are those of the answer", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		const r = await (await fetch(`${desk.url}api/jobs/line.yaml/answer?depth=transport`)).json();
		const f = r.result.formats[0].container_mg;
		const two = (x: number) => Number(x.toPrecision(2)).toString();
		expect(await s.water()).toBe(`${two(f.likely)} mg (${two(f.low)} to ${two(f.high)})`);
		expect(await s.verdict()).toBe(r.result.verdict);
	});

	test("dragging an outlet answers at once, becomes a named step, and is undone", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		const before = readFileSync(join(desk.folder, "line.yaml"), "utf8");
		await s.drag("left knife", 0, -40, false);
		await s.page.getByText("while you drag").waitFor({ timeout: 20_000 });
		expect(await s.page.locator(".dim text").allTextContents()).toContainEqual(expect.stringMatching(/mm off$/));
		await s.page.mouse.up();
		await s.waitForStep("Move twin frame");
		const after = readFileSync(join(desk.folder, "line.yaml"), "utf8");
		expect(after).not.toBe(before);
		expect(after.split("\n").filter((l) => l.includes("#")).length).toBe(before.split("\n").filter((l) => l.includes("#")).length);
		await s.page.keyboard.press("Control+z");
		await s.waitForStep("");
		expect(readFileSync(join(desk.folder, "line.yaml"), "utf8")).toBe(before);
		await s.page.locator("[data-test=redo]").click();
		await s.waitForStep("Move twin frame");
		expect(readFileSync(join(desk.folder, "line.yaml"), "utf8")).toBe(after);
	});

	test("escape gives a drag up; arrow keys move by a millimetre; figures go to the form", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		await s.drag("left knife", 0, -30, false);
		await s.page.keyboard.press("Escape");
		await s.page.mouse.up();
		await s.page.waitForTimeout(300);
		expect(await s.step()).toBe("");
		const knife = s.page.locator('[data-outlet="left knife"][data-sheet=elevation]');
		await knife.focus();
		await s.page.keyboard.press("ArrowRight");
		await s.page.keyboard.press("ArrowRight");
		await s.page.keyboard.press("ArrowRight");
		await s.waitForStep("Move twin frame");
		expect(await s.field("x").inputValue()).toBe("3 mm");
		await knife.focus();
		await s.page.keyboard.press("7");
		await s.page.keyboard.type("5 mm");
		await s.page.keyboard.press("Enter");
		await s.waitForStep("Set x of left knife");
		expect(await s.field("x").inputValue()).toBe("75 mm");
	});

	test("a value may be typed in any unit, and a wrong one is refused at its field", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		await s.choose("left knife");
		await s.type("stand off", "2 in");
		await s.waitForStep("Set stand off of left knife");
		expect(readFileSync(join(desk.folder, "line.yaml"), "utf8")).toContain("stand_off: 2 in");
		await s.type("stand off", "near");
		await s.page.getByRole("alert").waitFor();
		expect(await s.field("stand off").getAttribute("aria-invalid")).toBe("true");
		expect(readFileSync(join(desk.folder, "line.yaml"), "utf8")).toContain("stand_off: 2 in");
	});

	test("a plant calls: four facts give a first answer and what to ask", async () => {
		const s = await desk.open("?view=start");
		await s.page.getByLabel("PET bottle").check();
		await s.page.getByLabel("How many a minute?").fill("400");
		await s.page.getByLabel("beaded").check();
		await s.page.getByLabel("Name of the job").fill("Call from Porto Alto");
		await s.page.getByRole("button", { name: "Answer", exact: true }).click();
		await s.page.getByText("Taken for what nobody said").waitFor({ timeout: 60_000 });
		expect(readFileSync(join(desk.folder, "call-from-porto-alto.yaml"), "utf8")).toContain("rate: 400 /min");
		await s.page.getByText(/Every case is being assessed|Ask these first/).waitFor(); // minutes on a busy machine
	});

	test("search, watch the trade-off, take a result over, undo it", async () => {
		const s = await desk.open("?job=line.yaml&view=search");
		await s.page.getByLabel("Candidates, about").fill("60");
		await s.page.locator("main").getByRole("button", { name: "Search", exact: true }).click();
		const take = s.page.getByRole("button", { name: /^Take over/ }).first();
		await take.waitFor({ timeout: 110_000 });
		await take.click();
		await s.page.locator("[data-test=undo]").getByText("Undo: Adopt").waitFor();
		await s.page.locator("[data-test=undo]").click();
		await s.waitForStep("");
	});

	test("a study shows what its assessments note, what was set aside, and the case that stands in the way", async () => {
		const concept = (name: string, remarks: string[]) => ({
			concept: name,
			what: "a pair of air knives",
			works: false,
			every_case_assessed: true,
			verdict: "not met",
			method: "transport",
			job_file: null,
			plenum_pa: 20000,
			cost_year: 900,
			grid_w: 4000,
			reserve: 0.9,
			blower: null,
			binds: null,
			fails_on: "it stays too wet",
			length_mm: 600,
			hood_needed_db: 16,
			changeovers: 0,
			remarks,
			settings: [],
			variables: [],
		});
		const study = {
			schema: "leste-design-1",
			job: "can",
			goal: "met",
			works: false,
			interrupted: false,
			no_station_can: "3.7 g/m2 condense on the sidewall",
			seed: 1,
			candidates: 60,
			concepts: [
				concept("tilted knives", ["330 mL can nearly tips over", "sound not met: 101 dB"]),
				{ ...concept("level knives", []), verdict: null, fails_on: null, every_case_assessed: false },
			],
			least_change: null,
			trade_off: [],
			breaks: [
				{
					input: "slot gap of left knife",
					way: "more",
					as_designed: "1.2 mm",
					move: "0.2 mm",
					nothing_breaks: false,
					share_of_examined: 0.2,
					beyond: "no blower gives its air",
				},
				{
					input: "tilt of left knife",
					way: "less",
					as_designed: "20 deg",
					move: "10 deg",
					nothing_breaks: true,
					share_of_examined: 1,
					beyond: null,
				},
			],
			miss: {
				concept: "tilted knives",
				binds: "330 mL can: the sidewall",
				case: "winter",
				limit: "2 g/m2",
				value: "2.2 g/m2",
				value_over_limit: 1.1,
				out_of_reach: "170 mg stay under it",
				changes: [],
			},
			reasons: [
				"Nothing can meet what is asked: where the line has stood, 3.7 g/m2 condense on the sidewall, and no air at a station takes that off.",
				"It is loud.",
			],
		};
		const front = [1.1, 40].map((reserve) => ({ concept: "tilted knives", cost_year: 900 * reserve, grid_w: 4000, reserve, plenum_pa: 20000 }));
		const s = await desk.open("?job=line.yaml");
		await s.page.route("**/search", (r) =>
			r.fulfill({
				json: {
					state: "done",
					revision: "r",
					budget: 60,
					done_pct: 100,
					best: "assessing tilted knives",
					judged: 60,
					front,
					plenty: 3,
					error: null,
					study,
					adopt: [],
				},
			}),
		);
		await s.page.goto(s.page.url().replace(/[?].*/, "?job=line.yaml&view=search"));
		const main = s.page.locator("main");
		await main.getByRole("heading", { name: "What no station can meet" }).waitFor();
		await main.getByText("2 g/m² is asked, 2.2 g/m² stays in the case winter, 1.1 times as much.").waitFor();
		await main.getByText("170 mg stay under it.").waitFor();
		await main.getByText("330 mL can nearly tips over.").waitFor();
		await main.getByText("It is loud.").waitFor();
		const rows = main.getByRole("table").filter({ hasText: "Held back by" }).locator("tbody tr");
		expect(await rows.last().locator("td").nth(1).textContent()).toContain("not assessed");
		expect(await rows.last().locator("td").nth(2).textContent()).toBe("about 0.90");
		expect(await main.getByRole("status").textContent()).not.toContain("assessing");
		const plot = main.getByRole("img", { name: "Reserve against yearly cost" });
		expect(await plot.locator("title").last().textContent()).toContain("reserve over 3,");
		const tops = (await plot.locator("text[text-anchor=end]").allTextContents()).map(Number);
		expect(Math.max(...tops)).toBeLessThan(4);
		const breaks = main.getByRole("table").filter({ hasText: "Beyond that" }).locator("tbody tr");
		expect(await breaks.first().locator("td").allTextContents()).toEqual([
			"slot gap of left knife",
			"1.2 mm",
			"more by 0.2 mm",
			"no blower gives its air",
		]);
		expect(await breaks.last().locator("td").last().textContent()).toBe("–");
		expect(await main.getByText("condense on the sidewall").count()).toBe(1);
		expect(await main.locator("summary").count()).toBe(1);
	});

	test("documents are written, looked at and saved", async () => {
		const s = await desk.open("?job=line.yaml&view=papers");
		await s.page.getByRole("button", { name: "Write them" }).click();
		const save = s.page.getByRole("link", { name: /^Save quotation/ }).first();
		await save.waitFor({ timeout: 110_000 });
		const [file] = await Promise.all([s.page.waitForEvent("download"), save.click()]);
		expect(readFileSync(await file.path()).length).toBeGreaterThan(1000);
	});

	test("a job with an error says where, and what would be right", async () => {
		const path = join(desk.folder, "wrong.yaml");
		writeFileSync(path, readFileSync(join(desk.folder, "line.yaml"), "utf8").replace("slot_gap: 1.5 mm", "slot_gap: 1.5 parsec"));
		const s = await desk.open("?job=wrong.yaml");
		await s.page.getByText("Nothing can be calculated before this is mended").waitFor();
		await s.page.getByRole("button", { name: "Show it" }).first().click();
		await s.page.getByLabel(/^slot gap( \*)?$/).fill("1.5 mm");
		await s.page.getByLabel(/^slot gap( \*)?$/).press("Enter");
		await s.answered("quick method").catch(() => {});
		await s.answered();
	});

	test("nothing moves down while something is calculated", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		const height = async () => (await s.page.locator("header").first().boundingBox())?.height;
		const before = await height();
		await s.view("Answer and what to ask");
		await s.page.getByRole("button", { name: "Stop every case" }).waitFor({ timeout: 30_000 });
		expect(await height()).toBe(before);
	});

	test("the demonstration has no file until it is saved under a name", async () => {
		const s = await desk.open();
		await s.answered();
		expect(await s.text("disk")).toBe("not in a file");
		await s.page.getByRole("button", { name: "Save as" }).click();
		await s.page.getByLabel("Name of the file").fill("ours");
		await s.page.getByRole("button", { name: "Save", exact: true }).click();
		await expect.poll(() => s.text("disk")).toBe("saved");
		expect(readFileSync(join(desk.folder, "ours.yaml"), "utf8")).toContain("Ribeira Spring");
	});

	test("two tabs on one job see each other's steps and lose none", async () => {
		const [a, b] = [await desk.open("?job=line.yaml"), await desk.open("?job=line.yaml")];
		await a.answered();
		await b.answered();
		await a.choose("left knife");
		await a.type("tilt", "12 deg");
		await b.waitForStep("Set tilt of left knife");
		await b.choose("left knife");
		expect(await b.field("tilt").inputValue()).toBe("12 deg");
		await b.type("length", "280 mm");
		await a.waitForStep("Set length of left knife");
		const text = readFileSync(join(desk.folder, "line.yaml"), "utf8");
		expect(text).toContain("tilt: 12 deg");
		expect(text).toContain("length: 280 mm");
	});

	test("a file changed on the disk shows up, the person chooses, and the other side is a step away", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		const path = join(desk.folder, "line.yaml");
		writeFileSync(path, readFileSync(path, "utf8").replace("stand_off: 40 mm", "stand_off: 44 mm"));
		await s.page.getByText("The file was changed outside the desk").waitFor({ timeout: 20_000 });
		const differs = s.page.getByRole("region", { name: "Where the two differ" }).locator("tr.differs");
		expect(await differs.locator("td").allTextContents()).toEqual([
			expect.stringContaining("stand_off: 40 mm"),
			expect.stringContaining("stand_off: 44 mm"),
		]);
		await s.page.getByRole("button", { name: "Take the file's" }).click();
		await s.waitForStep("Changed outside");
		await s.choose("left knife");
		await expect.poll(() => s.field("stand off").inputValue(), { timeout: 20_000 }).toBe("44 mm");
		rmSync(path);
		await s.page.getByText("The file is gone from the disk").waitFor({ timeout: 20_000 });
		await s.page.getByRole("button", { name: "Write it again" }).click();
		await expect.poll(() => s.page.locator("dialog[open]").count()).toBe(0);
		expect(readFileSync(path, "utf8")).toContain("stand_off: 44 mm");
	});

	test("a rail is moved up and down by hand and key, and away from the container in the plan", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		const said = (key: string) =>
			Number(new RegExp(`rails:\\s*- \\{[^}]*${key}: (\\d+) mm`).exec(readFileSync(join(desk.folder, "line.yaml"), "utf8"))?.[1]);
		const [height, play] = [said("height"), said("play")];
		const pull = async (sheet: string, dy: number, release = true) => {
			const box = await s.page.locator(`[data-rail="/line/rails/0"][data-sheet=${sheet}] .hold`).first().boundingBox();
			if (!box) throw new Error("no rail is drawn");
			const [x, y] = [box.x + 6, box.y + box.height / 2];
			await s.page.mouse.move(x, y);
			await s.page.mouse.down();
			await s.page.mouse.move(x, y + dy, { steps: 4 });
			if (release) await s.page.mouse.up();
		};
		await pull("elevation", -20);
		await s.waitForStep("Move guide rail");
		expect(said("height")).toBeGreaterThan(height);
		await s.page
			.getByRole("region", { name: "Form of" })
			.getByLabel(/^height/)
			.waitFor();
		await pull("plan", -20); // the left one is drawn above
		await expect.poll(() => said("play"), { timeout: 20_000 }).toBeGreaterThan(play);
		const before = said("height");
		await s.page.locator('[data-rail="/line/rails/0"][data-sheet=elevation]').first().focus();
		await s.page.keyboard.press("Shift+ArrowDown");
		await expect.poll(() => said("height"), { timeout: 20_000 }).toBe(before - 10);
		await pull("elevation", 30, false);
		await s.page.keyboard.press("Escape");
		await s.page.mouse.up();
		await s.page.waitForTimeout(300);
		expect(said("height")).toBe(before - 10);
	});

	test("a machine is moved along the line by key and by hand", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		const distance = () => {
			const [, number, unit] = /distance: ([\d.]+) (m|mm)\b/.exec(readFileSync(join(desk.folder, "line.yaml"), "utf8")) ?? [];
			return Number(number) * (unit === "m" ? 1000 : 1);
		};
		const before = distance();
		const machine = s.page.locator(".strip .machine").first();
		await machine.focus();
		await s.page.keyboard.press("Shift+ArrowRight");
		await expect.poll(distance, { timeout: 20_000 }).toBe(before + 100);
		await s.waitForStep(`Move ${await machine.getAttribute("data-thing")}`);
		const box = await machine.locator(".grip").boundingBox();
		if (!box) throw new Error("no machine on the line");
		const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
		await s.page.mouse.move(x, y);
		await s.page.mouse.down();
		await s.page.mouse.move(x - 40, y, { steps: 4 });
		await s.page.getByText("after its station").waitFor();
		await s.page.mouse.up();
		await expect.poll(distance, { timeout: 20_000 }).toBeLessThan(before);
	});

	test("while the program is away nothing is lost, and the desk says so", async () => {
		const s = await desk.open("?job=line.yaml");
		await s.answered();
		await s.choose("left knife");
		const port = await desk.stop();
		await s.page.getByText("does not answer").first().waitFor({ timeout: 20_000 });
		await s.type("tilt", "15 deg");
		await s.type("stand off", "47 mm");
		await s.page.getByText("2 steps that were made while the program was away wait").waitFor();
		await desk.start(port);
		await expect.poll(() => s.text("state"), { timeout: 30_000 }).not.toContain("stays, edits wait");
		await s.page.getByRole("button", { name: "Make the steps again" }).click();
		await s.waitForStep("Set stand off of left knife");
		expect(readFileSync(join(desk.folder, "line.yaml"), "utf8")).toMatch(/tilt: 15 deg/);
	});

	test("the pass is played, in space too,", async () => {
		const s = await desk.open("?job=line.yaml&shape=solid");
		await s.answered();
		await s.page.locator("[data-test=play]").click();
		await s.page.locator(".player").getByText("from its datum").waitFor({ timeout: 30_000 });
		const rate = await s.page.evaluate(
			() =>
				new Promise<number>((done) => {
					let n = 0;
					const begin = performance.now();
					requestAnimationFrame(function count() {
						n++;
						const t = performance.now() - begin;
						if (t > 2000) done((1000 * n) / t);
						else requestAnimationFrame(count);
					});
				}),
		);
		console.log(`playback: ${rate.toFixed(0)} frames a second`);
		expect(rate).toBeGreaterThan(5); // the goal is 20; a loaded machine must not fail the test
	});

	test.each([1440, 1280, 1024])("nothing is cut off in a window of %i px, and the form stands beside the drawing", async (width) => {
		const s = await desk.open("?job=line.yaml", { width });
		await s.answered();
		for (const view of ["Answer and what to ask", "Running cost", "Options", "Search", "Documents", "Questions", "Relations", "Line"]) {
			await s.view(view);
			await s.page.waitForTimeout(300);
			expect(await s.cut(), view).toEqual([]);
		}
		const drawing = await s.page.getByLabel("Drawing of the station").boundingBox();
		const form = await s.page.getByRole("region", { name: "Form of" }).boundingBox();
		const block = await s.page.getByLabel("Answer", { exact: true }).boundingBox();
		if (!drawing || !form || !block) throw new Error("something is not drawn");
		expect(form.x).toBeGreaterThanOrEqual(drawing.x + drawing.width - 1);
		expect(drawing.y + drawing.height).toBeLessThanOrEqual(block.y + 1);
		expect(new Set(await s.page.locator(".block .cell").evaluateAll((all) => all.map((e) => e.getBoundingClientRect().y))).size).toBe(
			width > 1100 ? 1 : 2,
		);
	});

	test.each(["line", "asking", "air", "cost", "options", "search", "papers", "questions", "relations", "start", "jobs"])(
		"view %s has no barriers in light and dark",
		async (view) => {
			for (const shade of ["light", "dark"]) {
				const s = await desk.open(`?job=line.yaml&view=${view}&shade=${shade}`);
				await s.page.locator("main").first().waitFor();
				await s.page.waitForTimeout(view === "line" ? 4000 : 1500);
				expect(await s.barriers(), shade).toEqual([]);
				await s.page.close();
			}
		},
	);
});

import { describe, expect, test } from "vitest";
import { near, sides } from "./sides.ts";

describe("two texts side by side", () => {
	test("a changed line stands beside the one it was", () => {
		expect(sides("a\nb\nc\n", "a\nB\nc\n")).toEqual([
			{ left: "a", right: "a" },
			{ left: "b", right: "B" },
			{ left: "c", right: "c" },
		]);
	});
	test("what one side alone has stands alone", () => {
		expect(sides("a\nc", "a\nb\nc")).toEqual([
			{ left: "a", right: "a" },
			{ left: null, right: "b" },
			{ left: "c", right: "c" },
		]);
		expect(sides("a\nb\nc", "a\nc")[1]).toEqual({ left: "b", right: null });
	});
	test("every line of both is there, in its order", () => {
		const [a, b] = ["x\ny\nz\nx\ny", "y\nx\nx\nw\ny"];
		const rows = sides(a, b);
		expect(rows.flatMap((r) => r.left ?? []).join("\n")).toBe(a);
		expect(rows.flatMap((r) => r.right ?? []).join("\n")).toBe(b);
	});
	test("equal texts differ nowhere, and only what differs is near", () => {
		expect(near(sides("a\nb", "a\nb"))).toEqual([null]);
		const rows = near(sides("1\n2\n3\n4\n5\n6\n7", "1\n2\n3\n4\n5\n6\n8"), 1);
		expect(rows).toEqual([null, { left: "6", right: "6" }, { left: "7", right: "8" }]);
	});
});

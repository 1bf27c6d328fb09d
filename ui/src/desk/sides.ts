// Two texts line by line, side by side: what both have stands in one row.

/** A row of the comparison; a side without a line there is null. */
export interface Row {
	left: string | null;
	right: string | null;
}

/** Longer texts are not compared, only shown: the comparison takes the product of their lengths. */
const mostLines = 2000;

/** The rows of two texts, with the fewest lines that differ. */
export function sides(left: string, right: string): Row[] {
	const [a, b] = [lines(left), lines(right)];
	if (a.length > mostLines || b.length > mostLines) return pairs(a, b);
	// long[i][j] is how many lines a from i and b from j share, in order.
	const wide = b.length + 1;
	const long = new Uint16Array((a.length + 1) * wide);
	for (let i = a.length - 1; i >= 0; i--) {
		for (let j = b.length - 1; j >= 0; j--) {
			const at = i * wide + j;
			long[at] = a[i] === b[j] ? (long[at + wide + 1] ?? 0) + 1 : Math.max(long[at + wide] ?? 0, long[at + 1] ?? 0);
		}
	}
	const rows: Row[] = [];
	let [i, j] = [0, 0];
	let [gone, come]: [string[], string[]] = [[], []];
	const flush = () => {
		rows.push(...pairs(gone, come));
		[gone, come] = [[], []];
	};
	while (i < a.length || j < b.length) {
		if (i < a.length && j < b.length && a[i] === b[j]) {
			flush();
			rows.push({ left: a[i++] as string, right: b[j++] as string });
		} else if (j >= b.length || (i < a.length && (long[(i + 1) * wide + j] ?? 0) >= (long[i * wide + j + 1] ?? 0))) gone.push(a[i++] as string);
		else come.push(b[j++] as string);
	}
	flush();
	return rows;
}

/** The rows that differ with a few around each; null stands for rows left out. */
export function near(rows: Row[], around = 2): (Row | null)[] {
	const out: (Row | null)[] = [];
	let last = -1;
	rows.forEach((_, k) => {
		const close = rows.slice(Math.max(0, k - around), k + around + 1).some((r) => r.left !== r.right);
		if (!close) return;
		if (k > last + 1) out.push(null);
		out.push(rows[k] as Row);
		last = k;
	});
	if (last < rows.length - 1) out.push(null);
	return out;
}

const lines = (text: string) => text.replace(/\n$/, "").split(/\r?\n/);

const pairs = (a: string[], b: string[]): Row[] =>
	Array.from({ length: Math.max(a.length, b.length) }, (_, k) => ({ left: a[k] ?? null, right: b[k] ?? null }));

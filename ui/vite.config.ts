import { readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

const out = "../web/dist";

// The folder holds a README that is kept in the repository; everything else in it is a build.
const sweep = {
	name: "sweep",
	buildStart() {
		for (const name of readdirSync(out)) if (name !== "README") rmSync(join(out, name), { recursive: true });
	},
};

const proxy = { "/api": process.env.DESK ?? "http://127.0.0.1:4319" };
const policy =
	"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; frame-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

export default defineConfig({
	plugins: [svelte(), { ...sweep, apply: "build" }],
	build: { outDir: out, emptyOutDir: false, assetsInlineLimit: 0, modulePreload: { polyfill: false }, target: "es2022", chunkSizeWarningLimit: 800 },
	// While the screens are worked on, a running `leste serve` answers; the policy is the one that it serves them with.
	server: { proxy },
	preview: { proxy, headers: { "Content-Security-Policy": policy } },
});

// The drawing in space: the container's wall, the outlets of a station, and the push of the air as an arrow.
import {
	AmbientLight,
	ArrowHelper,
	BufferAttribute,
	BufferGeometry,
	Color,
	DirectionalLight,
	DoubleSide,
	EdgesGeometry,
	Group,
	LineBasicMaterial,
	LineSegments,
	Mesh,
	MeshLambertMaterial,
	PerspectiveCamera,
	PlaneGeometry,
	Scene,
	Vector3,
	WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import type { Station, Wall } from "../api/client.ts";
import { triples } from "../desk/outline.ts";
import { arrow as arrowOf, type Push } from "../desk/pass.ts";
import { classOf, type Scale, unpack } from "../desk/water.ts";

export interface Space {
	wall(w: Wall): void;
	water(water: Float32Array, scale: Scale): void;
	station(s: Station, selected: string): void;
	moment(x: number, push: Push | null): void;
	close(): void;
}

/** The wall as triangles: its cells' centres joined around and along the profile. */
function skin(w: Wall): BufferGeometry {
	const g = new BufferGeometry();
	g.setAttribute("position", new BufferAttribute(unpack(w.pos_mm), 3));
	g.setAttribute("color", new BufferAttribute(new Float32Array(3 * w.rows * w.cols), 3));
	const index: number[] = [];
	for (let r = 0; r + 1 < w.rows; r++) {
		for (let c = 0; c < w.cols; c++) {
			const [a, b] = [r * w.cols + c, r * w.cols + ((c + 1) % w.cols)];
			index.push(a, b, a + w.cols, b, b + w.cols, a + w.cols);
		}
	}
	g.setIndex(index);
	g.computeVertexNormals();
	return g;
}

/** A convex body between two loops of as many corners. */
function prism(a: (number | null)[], b: (number | null)[]): BufferGeometry {
	const [p, q] = [triples(a), triples(b)];
	const g = new BufferGeometry();
	g.setAttribute("position", new BufferAttribute(new Float32Array([...p, ...q].flat()), 3));
	const n = p.length;
	const index: number[] = [];
	for (let i = 0; i < n; i++) {
		const j = (i + 1) % n;
		index.push(i, j, n + i, j, n + j, n + i);
		if (i > 1) index.push(0, i - 1, i, n, n + i, n + i - 1);
	}
	g.setIndex(index);
	const flat = g.toNonIndexed();
	flat.computeVertexNormals();
	g.dispose();
	return flat;
}

const ink = (name: string) => {
	// The browser turns any colour of the style sheet into one that the drawing knows.
	const c = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
	if (!c) return new Color(0x888888);
	c.fillStyle = getComputedStyle(document.documentElement).getPropertyValue(name);
	c.fillRect(0, 0, 1, 1);
	const d = c.getImageData(0, 0, 1, 1).data;
	return new Color(`rgb(${d[0]}, ${d[1]}, ${d[2]})`);
};

const usualBelt = 110; // mm, where its width is not known

export function open(host: HTMLElement): Space {
	const renderer = new WebGLRenderer({ antialias: true, alpha: true });
	renderer.setPixelRatio(Math.min(devicePixelRatio, 1.5));
	host.append(renderer.domElement);
	const scene = new Scene();
	const camera = new PerspectiveCamera(32, 1, 1, 5000);
	camera.up.set(0, 0, 1);
	const controls = new OrbitControls(camera, renderer.domElement);
	scene.add(new AmbientLight(0xffffff, 1.9));
	const sun = new DirectionalLight(0xffffff, 1.6);
	sun.position.set(-200, 350, 500);
	scene.add(sun);
	const body = new Mesh(new BufferGeometry(), new MeshLambertMaterial({ vertexColors: true, side: DoubleSide }));
	const things = new Group();
	const belt = new Mesh(new PlaneGeometry(900, 1), new MeshLambertMaterial({ color: ink("--film-3"), side: DoubleSide }));
	belt.position.z = -1;
	belt.scale.y = usualBelt;
	const arrow = new ArrowHelper(new Vector3(1, 0, 0), new Vector3(), 60, ink("--mark"), 14, 9);
	arrow.visible = false;
	scene.add(body, things, belt, arrow);
	let [high, framed, due] = [115, false, false];

	controls.listenToKeyEvents(host);

	const draw = () => {
		if (due) return;
		due = true;
		requestAnimationFrame(() => {
			due = false;
			renderer.render(scene, camera);
		});
	};
	controls.addEventListener("change", draw);
	const fit = new ResizeObserver(() => {
		const [w, h] = [Math.max(1, host.clientWidth), Math.max(1, host.clientHeight)];
		renderer.setSize(w, h);
		camera.aspect = w / h;
		camera.updateProjectionMatrix();
		draw();
	});
	fit.observe(host);

	const clear = () => {
		for (const o of [...things.children]) {
			(o as Mesh).geometry.dispose();
			things.remove(o);
		}
	};
	return {
		wall(w) {
			body.geometry.dispose();
			body.geometry = skin(w);
			body.geometry.computeBoundingBox();
			high = body.geometry.boundingBox?.max.z ?? 115;
			if (!framed) {
				framed = true;
				controls.target.set(0, 0, high * 0.5);
				camera.position.set(-high * 2.2, high * 3.2, high * 2.1);
				controls.update();
			}
			draw();
		},
		water(water, scale) {
			const colour = body.geometry.getAttribute("color") as BufferAttribute | undefined;
			if (!colour || colour.count !== water.length) return;
			const ramp = scale.colours.map((q) => new Color(`rgb(${q.join(", ")})`));
			for (let i = 0; i < water.length; i++) {
				const q = ramp[classOf(scale, water[i] ?? 0)] as Color;
				colour.setXYZ(i, q.r, q.g, q.b);
			}
			colour.needsUpdate = true;
			draw();
		},
		station(s, selected) {
			clear();
			belt.visible = !s.gripped;
			belt.scale.y = s.belt_mm ?? usualBelt;
			const [plain, chosen, line] = [ink("--film-2"), ink("--mark-film"), ink("--ink")];
			for (const o of s.outlets) {
				for (const solid of o.solids) {
					const g = prism(solid.a, solid.b);
					things.add(
						new Mesh(g, new MeshLambertMaterial({ color: o.path === selected ? chosen : plain, side: DoubleSide, transparent: true, opacity: 0.55 })),
					);
					things.add(new LineSegments(new EdgesGeometry(g, 30), new LineBasicMaterial({ color: o.path === selected ? ink("--mark") : line })));
				}
			}
			draw();
		},
		moment(x, push) {
			body.position.x = x;
			arrow.visible = push !== null;
			if (push) {
				const way = new Vector3(...arrowOf(push));
				const long = way.length();
				arrow.visible = long > 1;
				arrow.position.set(x, 0, high * 1.12);
				if (arrow.visible) {
					arrow.setDirection(way.normalize());
					arrow.setLength(12 + long, 14, 9);
				}
			}
			draw();
		},
		close() {
			fit.disconnect();
			controls.dispose();
			clear();
			body.geometry.dispose();
			renderer.dispose();
			renderer.domElement.remove();
		},
	};
}

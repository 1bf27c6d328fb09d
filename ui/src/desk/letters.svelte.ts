// How large letters are beside those of an ordinary screen: drawings grow with the type on very large ones.

const measure = () => Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 14 || 1;

class Letters {
	size = $state(1);
	constructor() {
		this.size = measure();
		addEventListener("resize", () => {
			this.size = measure();
		});
	}
}

export const letters = new Letters();

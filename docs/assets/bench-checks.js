/** <bench-checks>: works checks out again, in the Python of this browser: those of the page, or all where it shows none. */
import { find, make } from "./elements.js";
import { ask } from "./python.js";

const AT_ONCE = 10; // so that the count moves

class BenchChecks extends HTMLElement {
  #status;
  #different;

  connectedCallback() {
    this.innerHTML =
      '<p class="bench-buttons"><button type="button">Work them out on this device</button></p><p role="status"></p><ul></ul>';
    [, this.#status, this.#different] = this.children;
    const button = find(this, "button", HTMLButtonElement);
    button.addEventListener("click", () => this.#run(button));
  }

  async #run(button) {
    button.disabled = true;
    this.#different.replaceChildren();
    const counts = { agrees: 0, bits: 0, digits: 0 };
    try {
      const { default: all } = await import("./checks.js");
      const rows = new Map([...document.querySelectorAll("[data-check]")].map((row) => [Number(row.dataset.check), row]));
      const places = rows.size ? [...rows.keys()] : [...all.keys()];
      for (let done = 0; done < places.length && this.isConnected; done += AT_ONCE) {
        this.#status.textContent = `Worked out: ${done} of ${places.length} …`;
        const some = places.slice(done, done + AT_ONCE);
        const { checks } = await ask({ want: "checks", checks: some.map((place) => all[place]) });
        checks.forEach((check, index) => this.#mark(rows.get(some[index]), all[some[index]], check, counts));
      }
      const { agrees, bits, digits } = counts;
      this.#status.textContent =
        `${agrees} of ${places.length} agree with their source on this device. ` +
        `Beside the computer that made this page: ${bits} the same to the last bit, ${digits} to twelve digits, ` +
        `${places.length - bits - digits} different.`;
    } catch (error) {
      console.warn(error);
      this.#status.textContent = "The checks have stopped: this browser’s Python did not answer.";
    }
    button.disabled = false;
  }

  #mark(row, { ours }, { agrees, same }, counts) {
    counts.agrees += Number(agrees);
    if (same) counts[same] += 1;
    const alike = agrees && Boolean(same);
    if (row) {
      row.dataset.here = alike ? "same" : "different";
      row.cells[2].dataset.here = alike ? "✓ the same here" : "✗ different here";
    }
    if (!alike) this.#different.append(make("li", {}, ours));
  }
}

customElements.define("bench-checks", BenchChecks);

/** <bench-checks>: works checks out again, in the Python of this browser: those of the page, or all where it shows none. */
import { find, findAll, make } from "./elements.js";
import { ask } from "./python.js";

const AT_ONCE = 10; // so that the count moves

class BenchChecks extends HTMLElement {
  connectedCallback() {
    this.innerHTML =
      '<p class="bench-buttons"><button type="button">Work them out on this device</button></p><p role="status"></p><ul></ul>';
    const button = find(this, "button", HTMLButtonElement);
    button.addEventListener("click", () => this.#run(button));
  }

  /** @param {HTMLButtonElement} button */
  async #run(button) {
    button.disabled = true;
    const status = find(this, "[role=status]");
    const different = find(this, "ul");
    different.replaceChildren();
    const counts = { agrees: 0, bits: 0, digits: 0 };
    try {
      const { default: all } = await import("./checks.js");
      const rows = new Map(findAll(document, "[data-check]", HTMLTableRowElement).map((row) => [Number(row.dataset.check), row]));
      const places = rows.size ? [...rows.keys()] : [...all.keys()];
      for (let done = 0; done < places.length && this.isConnected; done += AT_ONCE) {
        status.textContent = `Worked out: ${done} of ${places.length} …`;
        const some = places.slice(done, done + AT_ONCE);
        const { checks } = await ask({ want: "checks", checks: some.map((place) => all[place]) });
        for (const [index, check] of checks.entries()) if (!this.#mark(rows.get(some[index]), check, counts)) different.append(make("li", {}, all[some[index]].ours));
      }
      const { agrees, bits, digits } = counts;
      status.textContent =
        `${agrees} of ${places.length} agree with their source on this device. ` +
        `Beside the computer that made this page: ${bits} the same to the last bit, ${digits} to twelve digits, ` +
        `${places.length - bits - digits} different.`;
    } catch (error) {
      console.warn(error);
      status.textContent = "The checks have stopped: this browser’s Python did not answer.";
    }
    button.disabled = false;
  }

  /** @param {HTMLTableRowElement | undefined} row @param {any} answer @param {any} counts @returns {boolean} whether it is as it was */
  #mark(row, { agrees, same }, counts) {
    counts.agrees += Number(agrees);
    if (same) counts[same] += 1;
    const alike = agrees && Boolean(same);
    if (row) {
      row.dataset.here = alike ? "same" : "different";
      row.cells[2].dataset.here = alike ? "✓ the same here" : "✗ different here";
      const fold = row.closest("details");
      if (fold && !alike) fold.open = true;
    }
    return alike;
  }
}

customElements.define("bench-checks", BenchChecks);

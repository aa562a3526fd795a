/** <bench-checks>: works out every check of the page again, in the Python of this browser. */
import { ask } from "./python.js";

const AT_ONCE = 10; // so that the count moves

class BenchChecks extends HTMLElement {
  #status;

  connectedCallback() {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "md-button";
    button.textContent = "Work them all out on this device";
    button.addEventListener("click", () => this.#run(button));
    this.#status = document.createElement("p");
    this.#status.setAttribute("role", "status");
    this.replaceChildren(button, this.#status);
  }

  async #run(button) {
    button.disabled = true;
    const rows = [...document.querySelectorAll("[data-check]")];
    const counts = { agrees: 0, bits: 0, digits: 0 };
    try {
      for (let done = 0; done < rows.length && this.isConnected; done += AT_ONCE) {
        this.#status.textContent = `Worked out: ${done} of ${rows.length} …`;
        const some = rows.slice(done, done + AT_ONCE);
        const { checks } = await ask({ want: "checks", checks: some.map((row) => JSON.parse(row.dataset.check)) });
        checks.forEach((check, index) => this.#mark(some[index], check, counts));
      }
      const { agrees, bits, digits } = counts;
      const apart = rows.length - bits - digits;
      this.#status.textContent =
        `${agrees} of ${rows.length} agree with their source on this device. ` +
        `Beside the computer that made this page: ${bits} the same to the last bit, ${digits} to twelve digits, ${apart} different.`;
    } catch (error) {
      console.warn(error);
      this.#status.textContent = "The checks have stopped: this browser’s Python did not answer.";
    }
    button.disabled = false;
  }

  #mark(row, { agrees, same }, counts) {
    counts.agrees += Number(agrees);
    if (same) counts[same] += 1;
    row.classList.toggle("bench-check-agrees", agrees && Boolean(same));
    row.classList.toggle("bench-check-differs", !agrees || !same);
    row.cells[2].dataset.here = agrees && same ? "✓ the same here" : "✗ differs here";
  }
}

customElements.define("bench-checks", BenchChecks);

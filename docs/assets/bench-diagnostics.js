/** <bench-diagnostics>: how this browser got on with the book, in words that can be read out over a telephone. */
import { LiveElement, make } from "./elements.js";
import { written } from "./locale.js";
import { history, startPython } from "./python.js";
import release from "./release.js";

const WAYS = { snapshot: "from the snapshot (the fast way)", stock: "the stock way (the slow one)", "": "–" };

class BenchDiagnostics extends LiveElement {
  /** @param {AbortSignal} signal */
  arrive(signal) {
    addEventListener("bench-python", () => this.#show(), { signal });
    startPython();
    this.#show();
  }

  #show() {
    /** @param {number} count */
    const mebibytes = (count) => (count ? written(`${(count / 2 ** 20).toFixed(1)} MiB`) : "–");
    const facts = {
      "Release": release.name,
      "Python": history.state,
      "Started": WAYS[history.way],
      "Time to start": history.milliseconds ? written(`${(history.milliseconds / 1000).toFixed(2)} s`) : "–",
      "Downloaded or read from the cache for it": mebibytes(history.bytes),
      "Memory of Python": mebibytes(history.memory),
      "Setbacks": history.setbacks.join("; ") || "none",
      "Address is secure enough for offline use": isSecureContext ? "yes" : "no",
      "Browser": navigator.userAgent,
    };
    const lines = Object.entries(facts).flatMap(([name, fact]) => [make("dt", {}, name), make("dd", {}, fact)]);
    this.replaceChildren(make("dl", {}, ...lines));
  }
}

customElements.define("bench-diagnostics", BenchDiagnostics);

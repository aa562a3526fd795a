/** <bench-diagnostics>: how this browser got on with the book, in words that can be read out over a telephone. */
import { written } from "./locale.js";
import { history, startPython } from "./python.js";
import release from "./release.js";

const WAYS = { snapshot: "from the snapshot (the fast way)", stock: "the stock way (the slow one)", "": "–" };

class BenchDiagnostics extends HTMLElement {
  #listening = new AbortController();

  connectedCallback() {
    this.#listening = new AbortController();
    addEventListener("bench-python", () => this.#show(), { signal: this.#listening.signal });
    startPython();
    this.#show();
  }

  disconnectedCallback() {
    this.#listening.abort();
  }

  #show() {
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
    const list = document.createElement("dl");
    for (const [name, fact] of Object.entries(facts)) {
      const [term, text] = [document.createElement("dt"), document.createElement("dd")];
      term.textContent = name;
      text.textContent = fact;
      list.append(term, text);
    }
    this.replaceChildren(list);
  }
}

customElements.define("bench-diagnostics", BenchDiagnostics);

/** A calculator's entries as a link, and as a QR code for the phone: nothing goes through a server. */

const MARK = "#with:";
const LONGEST_CODE = 1200; // bytes that a phone still reads off a screen
const MOST = 1000; // names in a link that is looked at
const LONGEST_NAME = 40; // characters of a strange name that are said again

/**
 * Show the link that carries these entries, each number with its unit, and its code.
 *
 * @param {{name: string, text: string, unit?: string}[]} brought
 */
export async function share(host, prefix, brought) {
  const entries = new URLSearchParams(brought.map(({ name, text }) => [name, text]));
  for (const { name, unit } of brought) {
    const column = name.replace(/\.\d+$/, "");
    const units = new Set(brought.filter((other) => other.name.replace(/\.\d+$/, "") === column).map((other) => other.unit));
    if (unit) entries.set(units.size === 1 ? `${column}.unit` : `${name}.unit`, unit);
  }
  const link = `${location.origin}${location.pathname}${MARK}${prefix}?${entries}`;
  const dialog = document.createElement("dialog");
  dialog.className = "bench-shared";
  dialog.setAttribute("aria-label", "Take these entries along");
  const make = (tag, facts) => dialog.appendChild(Object.assign(document.createElement(tag), facts));
  make("p", { textContent: brought.length ? "This link opens the calculator with your entries:" : "This link opens the calculator; there are no entries of yours in it." });
  const box = make("input", { type: "text", readOnly: true, value: link });
  box.setAttribute("aria-label", "The link");
  if (link.length <= LONGEST_CODE) {
    const { default: encode } = await import("./qr.js");
    const code = make("div", { className: "bench-code", innerHTML: encode(link, "svg", { ecc: "low" }) });
    code.firstElementChild.setAttribute("role", "img");
    code.firstElementChild.setAttribute("aria-label", "The same link, for the camera of a phone");
  } else make("p", { textContent: "It is too long for a code that a phone could read." });
  make("button", { type: "button", textContent: "Close", onclick: () => dialog.close() });
  dialog.addEventListener("close", () => (dialog.remove(), host.querySelector(".bench-share")?.focus()));
  document.body.append(dialog);
  dialog.showModal();
  box.select();
}

/**
 * Offer what a link brought; it is taken only when the reader says so.
 *
 * @param {(name: string) => {label: string, unit?: string} | undefined} known what this calculator asks for under a name
 * @param {(brought: Map<string, {text: string, unit?: string}>) => void} take
 */
export function offerBrought(host, prefix, known, take) {
  const mark = `${MARK}${prefix}?`;
  if (!location.hash.startsWith(mark)) return;
  const given = new Map(new URLSearchParams(location.hash.slice(mark.length)));
  if (!given.size || given.size > MOST) return;
  const unitOf = (name) => given.get(`${name}.unit`) ?? given.get(`${name.replace(/\.\d+$/, "")}.unit`);
  const numbers = [...given].filter(([name]) => !name.endsWith(".unit"));
  const asked = numbers.filter(([name]) => known(name));
  const strange = numbers.filter(([name]) => !known(name)).map(([name]) => name.slice(0, LONGEST_NAME));
  // links of older editions have no unit where none was chosen by hand
  const bare = asked.filter(([name, text]) => known(name).unit && !unitOf(name) && !/[\p{L}°%"″′']/u.test(text));
  const bar = Object.assign(document.createElement("p"), { className: "bench-brought" });
  const button = (words, deed) => {
    const made = Object.assign(document.createElement("button"), { type: "button", textContent: words });
    made.onclick = () => {
      deed();
      bar.remove();
      history.replaceState(history.state, "", location.pathname);
    };
    return made;
  };
  bar.append(asked.length === 1 ? "This link brings one entry. " : `This link brings ${asked.length} entries. `);
  if (strange.length) bar.append(`Left out, for this calculator does not ask for it: ${strange.join(", ")}. `);
  if (bare.length) bar.append(`The link names no unit for: ${bare.map(([name]) => `${known(name).label} (taken in ${known(name).unit})`).join(", ")}. `);
  const brought = new Map(asked.map(([name, text]) => [name, { text, unit: unitOf(name) }]));
  if (asked.length) bar.append(button("Use them in this job", () => take(brought)), " ");
  bar.append(button(asked.length ? "Leave them" : "Close", () => {}));
  host.prepend(bar);
}

/** A calculator's entries as a link, and as a QR code for the phone: nothing goes through a server. */

const MARK = "#with:";
const LONGEST_CODE = 1200; // bytes that a phone still reads off a screen

/** Show the link that carries these controls, and its code. */
export async function share(host, prefix, controls) {
  const entries = new URLSearchParams(controls.map(({ name, value }) => [name, value]));
  const link = `${location.origin}${location.pathname}${MARK}${prefix}?${entries}`;
  const dialog = document.createElement("dialog");
  dialog.className = "bench-shared";
  dialog.setAttribute("aria-label", "Take these entries along");
  const make = (tag, facts) => dialog.appendChild(Object.assign(document.createElement(tag), facts));
  make("p", { textContent: controls.length ? "This link opens the calculator with your entries:" : "This link opens the calculator; there are no entries of yours in it." });
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

/** Offer what a link brought; it is taken only when the reader says so. */
export function offerBrought(host, prefix, take) {
  const mark = `${MARK}${prefix}?`;
  if (!location.hash.startsWith(mark)) return;
  const brought = new Map(new URLSearchParams(location.hash.slice(mark.length)));
  if (!brought.size || brought.size > 500) return;
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
  const count = [...brought.keys()].filter((name) => !name.endsWith(".unit")).length;
  bar.append(
    `This link brings ${count === 1 ? "one entry" : `${count} entries`}. `,
    button("Use them in this job", () => take(brought)),
    " ",
    button("Leave them", () => {}),
  );
  host.prepend(bar);
}

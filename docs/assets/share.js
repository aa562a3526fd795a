/** What was typed for the questions of a page as a link, and as a QR code for the phone: nothing goes through a server. */
import { button, make } from "./elements.js";
import { keepReadings, theJob, whyNotKept } from "./job.js";
import { ask } from "./python.js";

const MARK = "#with?";
const LONGEST_CODE = 1200; // bytes that a phone still reads off a screen
const MOST = 1000; // entries in a link that is looked at
const LONGEST_NAME = 60; // characters of a strange name that are said again

const questions = () => [...document.querySelectorAll("bench-question")];

/** Offer a link below the questions of this page, and what a link brought above them. */
export function offer() {
  const last = questions().at(-1);
  if (!last || document.querySelector(".bench-share")) return;
  const sends = button("Send these entries to another device", () => share(sends), { className: "bench-share" });
  const place = make("p", { className: "bench-buttons" }, sends);
  (last.closest(".q-room") ?? document.querySelector(".md-content__inner") ?? document.body).append(place);
  offerBrought().catch(console.warn);
}

/** Show the link that carries what these questions rest on, each number with its unit, and its code. @param {HTMLElement} opener */
async function share(opener) {
  const { readings } = await theJob();
  const names = questions().map((question) => question.getAttribute("name"));
  const { entries } = await ask({ want: "carried", names, readings });
  const link = `${location.origin}${location.pathname}${MARK}${new URLSearchParams(entries)}`;
  const dialog = make("dialog", { className: "bench-shared" });
  dialog.setAttribute("aria-label", "Take these entries along");
  const many = Object.keys(entries).length;
  dialog.appendChild(make("p", { textContent: many ? "This link opens the page with your entries:" : "This link opens the page; there are no entries of yours in it." }));
  const box = dialog.appendChild(make("input", { type: "text", readOnly: true, value: link }));
  box.setAttribute("aria-label", "The link");
  if (link.length <= LONGEST_CODE) {
    const { default: encode } = await import("./qr/index.js");
    const code = dialog.appendChild(make("div", { className: "bench-code", innerHTML: encode(link, "svg", { ecc: "low" }) }));
    code.firstElementChild?.setAttribute("role", "img");
    code.firstElementChild?.setAttribute("aria-label", "The same link, for the camera of a phone");
  } else dialog.appendChild(make("p", { textContent: "It is too long for a code that a phone can read." }));
  dialog.append(button("Close", () => dialog.close()));
  dialog.addEventListener("close", () => (dialog.remove(), opener.focus()));
  document.body.append(dialog);
  dialog.showModal();
  box.select();
}

/** Say what a link brought; it is taken only when the reader says so. */
async function offerBrought() {
  if (!location.hash.startsWith(MARK)) return;
  const given = Object.fromEntries(new URLSearchParams(location.hash.slice(MARK.length)));
  const count = Object.keys(given).length;
  if (!count || count > MOST) return;
  const { readings, strange, bare } = await ask({ want: "brought", entries: given });
  const asked = Object.keys(readings).length;
  const bar = make("p", { className: "bench-brought" });
  const leave = () => {
    bar.remove();
    history.replaceState(history.state, "", location.pathname);
  };
  const take = async () => {
    await keepReadings(readings, null);
    if (whyNotKept()) console.warn(whyNotKept()); // the page says so where it says it of every reading
    leave();
  };
  bar.append(asked === 1 ? "This link brings one entry. " : `This link brings ${asked} entries. `);
  if (strange.length) bar.append(`Left out, because no question asks for it: ${strange.map((/** @type {string} */ name) => name.slice(0, LONGEST_NAME)).join(", ")}. `);
  if (bare.length) bar.append(`The link names no unit for: ${bare.join(", ")}. `);
  if (asked) bar.append(button("Use them in this job", take), " ");
  bar.append(button(asked ? "Leave them" : "Close", leave));
  const first = questions()[0];
  (first.closest(".q-room") ?? first).before(bar);
}

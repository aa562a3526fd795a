/** What was typed for the questions of a page as a link, and as a QR code for the phone: nothing goes through a server. */
import { keepReadings, theJob, whyNotKept } from "./job.js";
import { ask } from "./python.js";

const MARK = "#with?";
const LONGEST_CODE = 1200; // bytes that a phone still reads off a screen
const MOST = 1000; // entries in a link that is looked at
const LONGEST_NAME = 60; // characters of a strange name that are said again

const questions = () => [...document.querySelectorAll("bench-question")];
const made = (tag, facts) => Object.assign(document.createElement(tag), facts);

/** Offer a link below the questions of this page, and what a link brought above them. */
export function offer() {
  const last = questions().at(-1);
  if (!last || document.querySelector(".bench-share")) return;
  const button = made("button", { type: "button", className: "bench-share", textContent: "Send these entries to another device" });
  button.onclick = () => share(button);
  const place = made("p", { className: "bench-buttons" });
  place.append(button);
  (last.closest(".q-room") ?? document.querySelector(".md-content__inner") ?? last.parentElement).append(place);
  offerBrought().catch(console.warn);
}

/** Show the link that carries what these questions rest on, each number with its unit, and its code. */
async function share(button) {
  const { readings } = await theJob();
  const names = questions().map((question) => question.getAttribute("name"));
  const { entries } = await ask({ want: "carried", names, readings });
  const link = `${location.origin}${location.pathname}${MARK}${new URLSearchParams(entries)}`;
  const dialog = made("dialog", { className: "bench-shared" });
  dialog.setAttribute("aria-label", "Take these entries along");
  const put = (tag, facts) => dialog.appendChild(made(tag, facts));
  const many = Object.keys(entries).length;
  put("p", { textContent: many ? "This link opens the page with your entries:" : "This link opens the page; there are no entries of yours in it." });
  const box = put("input", { type: "text", readOnly: true, value: link });
  box.setAttribute("aria-label", "The link");
  if (link.length <= LONGEST_CODE) {
    const { default: encode } = await import("./qr.js");
    const code = put("div", { className: "bench-code", innerHTML: encode(link, "svg", { ecc: "low" }) });
    code.firstElementChild.setAttribute("role", "img");
    code.firstElementChild.setAttribute("aria-label", "The same link, for the camera of a phone");
  } else put("p", { textContent: "It is too long for a code that a phone can read." });
  put("button", { type: "button", textContent: "Close", onclick: () => dialog.close() });
  dialog.addEventListener("close", () => (dialog.remove(), button.focus()));
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
  const bar = made("p", { className: "bench-brought" });
  const button = (words, deed) =>
    made("button", {
      type: "button",
      textContent: words,
      onclick: async () => {
        await deed();
        bar.remove();
        history.replaceState(history.state, "", location.pathname);
      },
    });
  const take = async () => {
    await keepReadings(readings, null);
    if (whyNotKept()) console.warn(whyNotKept()); // the page says so where it says it of every reading
  };
  bar.append(asked === 1 ? "This link brings one entry. " : `This link brings ${asked} entries. `);
  if (strange.length) bar.append(`Left out, because no question asks for it: ${strange.map((name) => name.slice(0, LONGEST_NAME)).join(", ")}. `);
  if (bare.length) bar.append(`The link names no unit for: ${bare.join(", ")}. `);
  if (asked) bar.append(button("Use them in this job", take), " ");
  bar.append(button(asked ? "Leave them" : "Close", () => {}));
  const first = questions()[0];
  (first.closest(".q-room") ?? first).before(bar);
}

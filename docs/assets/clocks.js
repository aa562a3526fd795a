/**
 * Clocks of the job: what takes its time runs down on every page, also after the browser was shut.
 *
 * A clock is kept as the moment at which it runs out, under the name of what started it: a step of a page, or
 * a question and what is waited for. A step's button says its time; an answer's has its minutes beside it. A browser that is shut cannot ring: the calendar entry can.
 */
import { button, find, findAll, make } from "./elements.js";
import { setClock, theJob } from "./job.js";
import { writtenTime } from "./locale.js";
import { ask } from "./python.js";

const ROOT = new URL("../../", import.meta.url);
const OF_PAGE = /^(\S+\/) steps(?: head_(\d+))? (\d+)$/; // as steps.js gives it
const OF_QUESTION = /^([a-z_]+)\.([a-z_]+) (.+)$/;
const TIME = /(\d+)\s(min|h)\b/;
const MINUTE = 60_000; // ms
const rung = new Set(); // by name and moment: those that this tab has rung for
/** @type {Set<string>} those that this tab has seen running, so that none rings that ran out while it was shut */
const running = new Set();
/** @type {AudioContext | undefined} */
let sound;
const strip = made();
let ticking = 0;

/** @returns {number} the minutes that a button says; none: 0 @param {string} words */
function minutesIn(words) {
  const [, number = 0, unit] = words.match(TIME) ?? [];
  return Number(number) * (unit === "h" ? 60 : 1);
}

/** @param {string} words */
const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

/** @returns {{words: string, address: string}} what a clock waits for, and where it was started @param {string} name */
function called(name) {
  const [, path, head, step] = name.match(OF_PAGE) ?? [];
  if (path) return { words: `${capital((path.split("/").at(-2) ?? "").replaceAll("-", " "))}${head ? `, head ${head}` : ""}, step ${step}`, address: `${path}#step-${step}` };
  const [, room, question, what] = name.match(OF_QUESTION) ?? [];
  if (!room) return { words: name, address: "job/" };
  const plain = capital(question.replaceAll("_", " "));
  return { words: what.includes(" ") && !/^steps\b|_/.test(what) ? what : plain, address: `work-it-out/${room.replaceAll("_", "-")}/#q-${room}-${question}` };
}

/** @returns {string} what is left, or how long it is over @param {number} until */
function left(until) {
  const seconds = Math.ceil((until - Date.now()) / 1000);
  const size = Math.abs(seconds);
  const two = (/** @type {number} */ part) => String(part).padStart(2, "0");
  const hours = Math.floor(size / 3600);
  const text = hours >= 48 ? `${Math.floor(hours / 24)} d ${hours % 24} h` : hours ? `${hours} h ${two(Math.floor(size / 60) % 60)} min` : `${Math.floor(size / 60)}:${two(size % 60)}`;
  return seconds > 0 ? text : `Time is up, ${text} ago`;
}

function made() {
  const made = make("aside", { className: "bench-clocks" });
  made.setAttribute("aria-label", "Clocks");
  made.innerHTML = '<p class="bench-aloud" role="status"></p><div></div>';
  return made;
}

async function show() {
  const { clocks } = await theJob();
  const names = Object.keys(clocks).sort((one, other) => clocks[one].until - clocks[other].until);
  clearInterval(ticking);
  if (!names.length) return void strip.remove();
  const article = document.querySelector(".md-content__inner");
  if (article && strip.parentNode !== article) article.prepend(strip);
  find(strip, "div").replaceChildren(...names.map((name) => line(name, clocks[name].until)));
  tickAll();
  ticking = setInterval(tickAll, 1000);
}

/** @param {string} name @param {number} until */
function line(name, until) {
  const one = make("div", { className: "bench-clock-line" });
  one.dataset.name = name;
  one.dataset.until = String(until);
  const { words, address } = called(name);
  const time = make("strong", { className: "bench-clock-left" });
  time.setAttribute("role", "timer");
  const what = make("a", { href: new URL(address, ROOT).href }, words);
  const end = make("span", {}, `until ${writtenTime(new Date(until).toISOString())}`);
  one.append(time, what, end);
  const add = (/** @type {string} */ text, /** @type {() => unknown} */ deed) => one.append(button(text, deed, { ariaLabel: `${text}: ${words}` }));
  if (globalThis.Notification?.permission === "default") add("Tell me", async () => (await Notification.requestPermission(), show()));
  add("Calendar file", () => takeAway(name, words, until));
  add("Take it away", () => setClock(name, undefined));
  return one;
}

function tickAll() {
  for (const one of findAll(strip, ".bench-clock-line", HTMLElement)) {
    const [until, name] = [Number(one.dataset.until), `${one.dataset.name} ${one.dataset.until}`];
    find(one, ".bench-clock-left").textContent = left(until);
    one.classList.toggle("bench-clock-up", until <= Date.now());
    if (until > Date.now()) running.add(name);
    else if (running.has(name) && !rung.has(name)) {
      rung.add(name);
      ring(called(one.dataset.name ?? "").words);
    }
  }
}

/** Say it in the page, sound, and notify where the reader allowed it. @param {string} words */
async function ring(words) {
  find(strip, "[role=status]").textContent = `Time is up: ${words}`;
  navigator.vibrate?.([400, 200, 400]);
  if (navigator.userActivation?.hasBeenActive && globalThis.AudioContext) {
    sound ??= new AudioContext();
    for (const at of [0, 0.5, 1]) {
      const tone = sound.createOscillator();
      tone.frequency.value = 880; // Hz: heard over a workshop's low noise
      tone.connect(sound.destination);
      tone.start(sound.currentTime + at);
      tone.stop(sound.currentTime + at + 0.25);
    }
  }
  if (globalThis.Notification?.permission !== "granted") return;
  try {
    const worker = await navigator.serviceWorker?.getRegistration();
    if (worker) await worker.showNotification(`Time is up: ${words}`);
    else new Notification(`Time is up: ${words}`);
  } catch (error) {
    console.info(error); // the page and the sound have said it
  }
}

/** @param {string} name @param {string} words @param {number} until */
async function takeAway(name, words, until) {
  const { text } = await ask({ want: "clock-file", name, words, until, made: Date.now() });
  const address = URL.createObjectURL(new Blob([text], { type: "text/calendar" }));
  make("a", { download: "clock.ics", href: address }).click();
  setTimeout(() => URL.revokeObjectURL(address), MINUTE);
}

addEventListener("click", ({ target }) => {
  const pressed = target instanceof Element && target.closest("button.bench-clock");
  if (!(pressed instanceof HTMLElement)) return;
  const { clock = "" } = pressed.dataset;
  const minutes = Number(pressed.dataset.minutes) || minutesIn(pressed.textContent ?? "");
  if (!minutes) return;
  if (navigator.userActivation?.isActive && globalThis.AudioContext) sound ??= new AudioContext(); // a tap is what a browser wants for it
  setClock(clock, Date.now() + minutes * MINUTE);
});
addEventListener("bench-job", ({ detail }) => (!detail.paths || detail.paths.some((path) => path.startsWith("clock "))) && show());
document$.subscribe(() => show());

/** Tells of a new edition, and changes to it when the reader says so; never by itself, never in the middle. */
import { button, make } from "./elements.js";
import release from "./release.js";

const STALE = 3_600_000; // ms: how often a page that stays open asks for a new edition
const CHANGEOVER = 5_000; // ms

/** The edition of this page, put into it by the build. */
export const edition = document.querySelector("bench-offline")?.getAttribute("edition") ?? "";

/** @param {number} milliseconds */
export const pause = (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds));

/** Ask a service worker for a deed. @param {ServiceWorker | null | undefined} worker @param {string} deed @param {object} [more] */
export function ask(worker, deed, more = {}) {
  return new Promise((resolve, reject) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => (data.failed ? reject(new Error(data.failed)) : resolve(data.answer));
    worker?.postMessage({ bench: deed, ...more }, [port2]);
  });
}

/** The service worker asks which edition a page is, to answer it from that one. */
export function tellEdition() {
  navigator.serviceWorker.addEventListener("message", ({ data, ports: [port] }) => {
    if (data?.bench === "edition") port.postMessage({ edition, release: release.name });
  });
  navigator.serviceWorker.startMessages();
}

const watched = new WeakSet();
const notice = make("div", { className: "bench-edition" });
notice.setAttribute("role", "status");
document.body.append(notice);

/**
 * Watch for a newer edition than this page's.
 *
 * @param {ServiceWorkerRegistration} registration
 * @param {(worker: ServiceWorker) => Promise<void>} prepare what is to be done before it is offered
 */
export function watch(registration, prepare) {
  if (watched.has(registration)) return;
  watched.add(registration);
  /** @param {ServiceWorker | null} worker */
  const offer = async (worker) => {
    try {
      if (!worker || (await ask(worker, "state")).edition === edition) return;
      await prepare(worker);
    } catch {} // what could not be prepared is kept later
    show(registration);
  };
  /** @param {ServiceWorker | null} worker */
  const follow = (worker) =>
    worker?.addEventListener("statechange", () => {
      if (worker.state === "installed" && registration.active) offer(worker);
    });
  offer(registration.waiting);
  follow(registration.installing);
  registration.addEventListener("updatefound", () => follow(registration.installing));
  navigator.serviceWorker.addEventListener("controllerchange", () => offer(navigator.serviceWorker.controller));
  let asked = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.hidden || Date.now() - asked < STALE) return;
    asked = Date.now();
    registration.update().catch(() => {});
  });
}

/** @param {ServiceWorkerRegistration} registration */
function show(registration) {
  if (notice.childElementCount) return;
  notice.append(
    make("span", {}, "A new edition is ready."),
    button("Change to it", () => changeOver(registration)),
    button("Later", () => notice.replaceChildren()),
  );
}

/** @param {ServiceWorkerRegistration} registration */
async function changeOver({ waiting }) {
  if (waiting) {
    const changed = new Promise((resolve) =>
      navigator.serviceWorker.addEventListener("controllerchange", resolve, { once: true }),
    );
    waiting.postMessage({ bench: "take over" });
    await Promise.race([changed, pause(CHANGEOVER)]);
  }
  location.reload();
}

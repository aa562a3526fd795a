/** Elements found and made: what the templates hold is there, and where it is not, the error names it. */

/**
 * @template {typeof Element} [Kind=typeof HTMLElement]
 * @param {ParentNode} root
 * @param {string} selector
 * @param {Kind} [kind]
 * @returns {InstanceType<Kind>}
 */
export function find(root, selector, kind = /** @type {any} */ (HTMLElement)) {
  const found = root.querySelector(selector);
  if (found instanceof kind) return /** @type {InstanceType<Kind>} */ (found);
  throw new TypeError(`${selector}: no such ${kind.name} on this page`);
}

/**
 * @template {typeof Element} Kind
 * @param {ParentNode} root
 * @param {string} selector
 * @param {Kind} kind
 * @returns {InstanceType<Kind>[]}
 */
export const findAll = (root, selector, kind) =>
  /** @type {InstanceType<Kind>[]} */ ([...root.querySelectorAll(selector)].filter((one) => one instanceof kind));

/**
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Partial<HTMLElementTagNameMap[Tag]>} [properties]
 * @param {(Node | string)[]} inside
 * @returns {NoInfer<HTMLElementTagNameMap[Tag]>}
 */
export function make(tag, properties, ...inside) {
  const made = document.createElement(tag);
  Object.assign(made, properties).append(...inside);
  return made;
}

/** @param {string} words @param {() => unknown} [deed] @param {Partial<HTMLButtonElement>} [properties] */
export const button = (words, deed, properties) => make("button", { type: "button", onclick: deed && (() => void deed()), ...properties }, words);

/** An element of ours that listens as long as it is on the page. */
export class LiveElement extends HTMLElement {
  #listening = new AbortController();

  connectedCallback() {
    this.#listening = new AbortController();
    this.arrive(this.#listening.signal);
  }

  disconnectedCallback() {
    this.#listening.abort();
    this.go();
  }

  /** @type {(signal: AbortSignal) => void} what ends when it leaves takes the signal */
  arrive() {}

  go() {}
}

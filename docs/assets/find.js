/** What the templates hold is there: where it is not, the error names it. */

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

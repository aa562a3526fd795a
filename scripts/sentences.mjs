// Where the texts stand in JavaScript: paths in, JSON out, a list of literals for each file.
//
// A literal is { start, end, pieces }: its place in the file, in bytes of UTF-16, and its parts in their order, each
// { text } as it is read or { place } with the name of an expression and { start, end } of what stands there.
// Literals that no reader can see are left out: keys, names, selectors, what is only compared.

import { readFileSync } from "node:fs";
import { parse } from "acorn";

const HIDDEN_CALLS = new Set(
  ("querySelector querySelectorAll addEventListener createElement getElementById getAttribute hasAttribute closest " +
    "matches removeAttribute toggleAttribute dispatchEvent fetch importScripts postMessage warn error startsWith " +
    "endsWith includes split join replace replaceAll match test define get getItem setItem removeItem contains add " +
    "remove toggle send ask want want open transaction objectStore createObjectStore index download").split(" "),
);
const HIDDEN_FIRST = new Set(["setAttribute", "make", "insertAdjacentHTML", "insertAdjacentElement"]);

/** @param {any} node @returns {string} */
const nameOf = (node) =>
  node.type === "Identifier" || node.type === "PrivateIdentifier" ? node.name
  : node.type === "MemberExpression" && !node.computed ? nameOf(node.property)
  : node.type === "ChainExpression" ? nameOf(node.expression)
  : node.type === "CallExpression" ? nameOf(node.callee)
  : "value";

function literals(source) {
  const found = [];
  walk(parse(source, { ecmaVersion: "latest", sourceType: "module" }));
  return found;

  /** @param {any} node */
  function walk(node, hidden = false) {
    switch (node?.type) {
      case undefined:
        return;
      case "ImportDeclaration": case "ImportExpression": case "ExportAllDeclaration":
        return;
      case "Literal":
        if (typeof node.value === "string" && !hidden) found.push({ start: node.start, end: node.end, pieces: [{ text: node.value }] });
        return;
      case "TaggedTemplateExpression":
        return node.quasi.expressions.forEach((inner) => walk(inner));
      case "TemplateLiteral": {
        const pieces = node.quasis.flatMap((quasi, at) => {
          const inner = node.expressions[at];
          return [{ text: quasi.value.cooked }, ...(inner ? [{ place: nameOf(inner), start: inner.start, end: inner.end }] : [])];
        });
        if (!hidden) found.push({ start: node.start, end: node.end, pieces });
        return node.expressions.forEach((inner) => walk(inner));
      }
      case "BinaryExpression":
        if (/^[=!]=/.test(node.operator) || node.operator === "in") return walk(node.left, true), walk(node.right, true);
        break;
      case "SwitchCase":
        return node.consequent.forEach((inner) => walk(inner));
      case "MemberExpression":
        return walk(node.object);
      case "CallExpression": case "NewExpression": {
        const name = nameOf(node.callee);
        walk(node.callee);
        const none = HIDDEN_CALLS.has(name) || (node.type === "NewExpression" && name !== "Error");
        return node.arguments.forEach((argument, at) => walk(argument, none || (at === 0 && HIDDEN_FIRST.has(name))));
      }
    }
    for (const [key, value] of Object.entries(node))
      for (const inner of Array.isArray(value) ? value : [value])
        if (inner && typeof inner.type === "string") walk(inner, hidden && key !== "body");
  }
}

const found = process.argv.slice(2).map((path) => [path, literals(readFileSync(path, "utf8"))]);
process.stdout.write(JSON.stringify(Object.fromEntries(found)));

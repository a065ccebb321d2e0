import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { createLater } from "../../../../pwa_assets/js/edges/screen/later.js";
import { page } from "../../browser.js";

const ADDRESS = "/assets/1a/en/later.html";
/** @type {string[]} */
let requested = [];
/** What the server answers, one for each request: a page, or null where there is no network. @type {(string|null)[]} */
let answers = [];

class Request {
  status = 0;
  /** @type {any} */
  responseXML = null;
  onload = () => undefined;
  onerror = () => undefined;
  open(/** @type {string} */ _method, /** @type {string} */ address) {
    requested.push(address);
  }
  async send() {
    const answer = answers.shift() ?? null;
    await null;
    if (answer === null) return this.onerror();
    this.status = answer ? 200 : 404;
    this.responseXML = answer && new window.DOMParser().parseFromString(answer, "text/html");
    this.onload();
  }
}

beforeEach(async () => {
  await page("<main></main>");
  document.documentElement.dataset.later = ADDRESS;
  Object.defineProperty(globalThis, "XMLHttpRequest", { value: Request, configurable: true });
  [requested, answers] = [[], []];
});

const templates = () => document.querySelectorAll("body > template").length;

test("the templates are put into the page once, however often they are requested for", async () => {
  answers = ['<template data-piece="one"></template><template data-piece="two"></template>'];
  const later = createLater(document);
  await Promise.all([later.whole(), later.whole()]);
  await later.whole();
  assert.deepEqual(requested, [ADDRESS]);
  assert.equal(templates(), 2);
});

test("where they did not come the next call asks again", async () => {
  answers = [null, "", '<template data-piece="one"></template>'];
  const later = createLater(document);
  await assert.rejects(later.whole());
  await assert.rejects(later.whole(), /404/);
  assert.equal(templates(), 0);
  await later.whole();
  assert.equal(requested.length, 3);
  assert.equal(templates(), 1);
});

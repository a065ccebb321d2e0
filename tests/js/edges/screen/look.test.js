import assert from "node:assert/strict";
import { test } from "node:test";
import { applyLook, chooseLook, chosenLook } from "../../../../pwa_assets/js/edges/screen/look.js";

const NIGHT = "(prefers-color-scheme: dark)";

/** A page with a sheet that asks for night, one that asks for a pointer, and a meta for each light. @returns {any} */
function aPage() {
  const [night, hover] = [{ media: { mediaText: NIGHT } }, { media: { mediaText: "(hover: hover)" } }];
  const metas = [{ media: "(prefers-color-scheme: light)" }, { media: NIGHT }];
  const page = {
    documentElement: { style: { fontSize: "", colorScheme: "" } },
    styleSheets: [{ cssRules: [night, hover, {}] }],
    querySelectorAll: () => metas,
  };
  return { page, night, hover, metas };
}

/** @param {Record<string, string>} kept */
const storing = (kept) =>
  Object.defineProperty(globalThis, "localStorage", {
    configurable: true,
    value: {
      getItem: (/** @type {string} */ key) => kept[key] ?? null,
      setItem: (/** @type {string} */ key, /** @type {string} */ value) => {
        kept[key] = value;
      },
    },
  });

test("a choice answers for the phone, and is given back", () => {
  const { page, night, hover, metas } = aPage();
  applyLook(page, { theme: "dark", text: "larger" });
  assert.deepEqual([night.media.mediaText, metas[0].media, metas[1].media], ["all", "(max-width: 0px)", "all"]);
  assert.deepEqual(page.documentElement.style, { fontSize: "125%", colorScheme: "dark" });
  applyLook(page, { theme: "light", text: "phone" });
  assert.deepEqual(
    [night.media.mediaText, metas[0].media, metas[1].media],
    ["(max-width: 0px)", "all", "(max-width: 0px)"],
  );
  applyLook(page, { theme: "phone", text: "phone" });
  assert.deepEqual(
    [night.media.mediaText, metas[0].media, metas[1].media],
    [NIGHT, "(prefers-color-scheme: light)", NIGHT],
  );
  assert.deepEqual(page.documentElement.style, { fontSize: "", colorScheme: "" });
  assert.equal(hover.media.mediaText, "(hover: hover)");
});

test("a size that the browser or a reader has set on the page stays where nothing was chosen", () => {
  const { page } = aPage();
  page.documentElement.style.fontSize = "200%";
  applyLook(page, { theme: "phone", text: "phone" });
  assert.equal(page.documentElement.style.fontSize, "200%");
});

test("where nothing was chosen no rule of a sheet is read, so that the start stays quick", () => {
  const { page } = aPage();
  Object.defineProperty(page, "styleSheets", {
    get: () => {
      throw new Error("read");
    },
  });
  applyLook(page, { theme: "phone", text: "larger" });
  assert.equal(page.documentElement.style.fontSize, "125%");
  assert.throws(() => applyLook(page, { theme: "dark", text: "phone" }), /read/);
});

test("a choice is kept in the browser", () => {
  storing({});
  assert.equal(chooseLook(aPage().page, { theme: "dark", text: "phone" }), true);
  assert.deepEqual(chosenLook(), { theme: "dark", text: "phone" });
});

test("what nobody chose, or a browser that keeps nothing, leaves all as the phone has it", () => {
  for (const text of ["", "no", "null", '{"theme":"pink","text":7}']) {
    storing({ "halfturn-look": text });
    assert.deepEqual(chosenLook(), { theme: "phone", text: "phone" });
  }
  Object.defineProperty(globalThis, "localStorage", {
    configurable: true,
    get() {
      throw new Error("denied");
    },
  });
  assert.deepEqual(chosenLook(), { theme: "phone", text: "phone" });
  assert.equal(chooseLook(aPage().page, { theme: "dark", text: "phone" }), false);
});

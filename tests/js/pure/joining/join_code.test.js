import assert from "node:assert/strict";
import { test } from "node:test";
import { tidyCode } from "../../../../pwa_assets/js/pure/joining/join_code.js";

test("a code is read however it was typed", () => {
  for (const typed of ["K7QM2XRT", "k7qm-2xrt", " k7qm 2xrt\n", "K7QM–2XRT", "Ｋ７ＱＭ２ＸＲＴ"]) {
    assert.equal(tidyCode(typed), "K7QM2XRT");
  }
});

test("what holds no letter and no figure is no code", () => {
  assert.equal(tidyCode(" - ."), "");
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { uuid7 } from "../../../../pwa_assets/js/pure/sync/uuid7.js";

const NO_CHANCE = new Uint8Array(10);

test("the worked example of the standard comes out", () => {
  // RFC 9562, Appendix A.6: 22 February 2022, 14:22:22 at UTC-5, which is 0x017F22E279B0 ms; rand_a 0xCC3,
  // rand_b 0x18C4DC0C0C07398F (the value seen in a page that reports it, its parts from memory).
  const chance = Uint8Array.of(0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f);
  assert.equal(uuid7(0x017f22e279b0, chance), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
  assert.equal(Date.parse("2022-02-22T14:22:22-05:00"), 0x017f22e279b0);
});

test("the random bytes never change the version and the variant", () => {
  // RFC 9562, section 5.7: four bits 0111, later two bits 10.
  assert.equal(
    uuid7(
      0,
      NO_CHANCE.map(() => 0xff),
    ),
    "00000000-0000-7fff-bfff-ffffffffffff",
  );
  assert.equal(uuid7(0, NO_CHANCE), "00000000-0000-7000-8000-000000000000");
});

test("the greatest time of 48 bits fits, and more chance than is needed changes nothing", () => {
  assert.equal(uuid7(2 ** 48 - 1, new Uint8Array(32)), "ffffffff-ffff-7000-8000-000000000000");
});

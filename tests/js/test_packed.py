"""The packed scripts decide as the sources do: each golden plan is looked up in both."""

import json

import pytest

from tests.js.conftest import CALL, answer_of
from tests.js.golden_bundles import almanac_of, bundle_of
from tests.vectors import write as golden
from webapp.dosing.responses import RESPONSES
from webapp.packing import plain_script

DECIDED = """async (load, { bundle, rows, responses }) => {
  const { nextOf, doseOf, responseOf } = await load("pure/dose/almanac.js");
  const ratings = [null, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
  const facts = { sessions: 1, done: "enough", isUnrated: false, sharp: false };
  return [
    rows.map((row) => [doseOf(bundle, { row }), responses.map((response) =>
      nextOf(bundle, { row, gapDays: 0, gapRung: 0 }, response))]),
    ratings.flatMap((during) => ratings.map((morning) => responseOf(bundle, { ...facts, during, morning }, 2))),
  ];
}"""


@pytest.fixture
def ask_packed(node, tmp_path):
    """Like `ask`, but with the scripts packed as they are served."""
    packed = tmp_path / "packed.mjs"
    packed.write_text(plain_script(["pure/dose/almanac.js"], "packedModules"), encoding="utf-8")
    load = f"() => import({json.dumps(packed.as_uri())}).then(() => globalThis.packedModules)"
    return lambda function, **arguments: answer_of(node, CALL.format(load=load, function=function), arguments)


@pytest.mark.parametrize("name", golden.PLANS)
def test_packed_scripts_decide_as_the_sources_do(ask, ask_packed, name):
    arguments = {"bundle": bundle_of(name), "rows": list(range(len(almanac_of(name).states))), "responses": RESPONSES}
    decided = ask_packed(DECIDED, **arguments)
    assert len(decided[0]) > 100
    assert decided == ask(DECIDED, **arguments)

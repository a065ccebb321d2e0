"""Who did what, when: kept for every act of the desk, read by an owner as a whole and by a member as far as it is their own."""

from tests.cast import HEDDA
from webapp.records import history, removal
from webapp.words.history import DEEDS

PAGE = "/practice/staff/history"
CASE = "/practice/cases/ansgar0001"


def _deeds(site):
    return [
        (deed.who, deed.act, deed.client) for deed in history.of_practice(site.db, site.hedda.practice, 1 << 53, 99)
    ]


def test_signing_in_an_act_and_signing_out_are_kept(site, visitor):
    visitor.sign_in(HEDDA.email, HEDDA.password)
    visitor.open(CASE)
    visitor.fill("/invite", {"kind": "link"}, post_to=f"{CASE}/invite")
    visitor.fill("/sign-out", {}, post_to="/practice/sign-out")
    assert _deeds(site) == [
        ("Hedda Marrow", "practice.door.sign_out", ""),
        ("Hedda Marrow", "practice.case.invite", "Ansgar Tolle"),
        ("Hedda Marrow", "practice.door.sign_in", ""),
    ]


def test_what_was_refused_or_only_looked_at_is_not_kept(site, hedda, visitor):
    hedda.open(CASE)
    hedda.send(f"{CASE}/invite", {"kind": "link"})
    hedda.send(f"{CASE}/course", {})
    hedda.send("/practice/cases/livia00001/invite", {})
    visitor.sign_in(HEDDA.email, "wrong")
    assert _deeds(site) == []


def test_an_owner_reads_everybodys_and_a_member_their_own(hedda, colleague):
    for visitor, case in ((hedda, CASE), (colleague.visitor, "/practice/cases/mirela0001")):
        visitor.open(case)
        visitor.fill("/invite", {"kind": "code"}, post_to=f"{case}/invite")
    whole, own = hedda.open(PAGE).text, colleague.visitor.open(PAGE).text
    assert "Ansgar Tolle" in whole
    assert "Mirela Quist" in whole
    assert "made an invitation" in own
    assert "Ansgar" not in own


def test_another_practice_reads_none_of_it(hedda, jonas):
    hedda.open(CASE)
    hedda.fill("/invite", {"kind": "code"}, post_to=f"{CASE}/invite")
    assert "Nothing yet" in jonas.open(PAGE).text


def test_a_removed_client_leaves_no_row_in_it(site, hedda):
    hedda.open(CASE)
    hedda.fill("/invite", {"kind": "code"}, post_to=f"{CASE}/invite")
    removal.remove(site.db, site.founder.id, "asked", site.clock())
    assert _deeds(site) == []


def test_every_act_that_has_a_sentence_is_an_act_of_the_desk(site):
    endpoints = {rule.endpoint for rule in site.app.url_map.iter_rules()}
    assert set(DEEDS) <= endpoints

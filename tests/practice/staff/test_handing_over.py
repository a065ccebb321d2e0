"""A client goes from one practitioner to a colleague: who sees the case, and what the client reads."""

import pytest

from tests.builders import session
from tests.cast import FIRST_DAY
from webapp.records import cases, history
from webapp.sync.case.letters import thread_of
from webapp.sync.case.told_intake import TOLD_LATER
from webapp.sync.phone.practitioner import practitioner_shown

CASE = "/practice/cases/ansgar0001"
REASON = "I am away until summer."


def _hand_over(visitor, to, reason=REASON):
    visitor.open(f"{CASE}/hand-over")
    return visitor.fill("", {"to": str(to), "handing_reason": reason}, post_to=f"{CASE}/hand-over")


def test_after_a_hand_over_the_colleague_alone_opens_the_case_and_the_client_reads_who_is_with_them(
    site, hedda, colleague
):
    site.begin(site.founder, [session(FIRST_DAY)])
    _hand_over(hedda, colleague.id)
    assert "Ansgar Tolle is handed over" in hedda.text
    assert hedda.open(CASE).status_code == 404
    assert colleague.visitor.open(CASE).status_code == 200
    assert practitioner_shown(site.db, site.founder.id).name == "Signe Aldin"
    letter = thread_of(site.db, site.founder.id)[-1]
    assert (letter.by, letter.is_clients) == ("Hedda Marrow", False)
    assert letter.text.startswith("From today Signe Aldin is with you instead of Hedda Marrow")
    assert letter.text.endswith(REASON)


def test_the_colleague_sees_it_as_new_until_they_say_that_they_know_of_it(hedda, colleague):
    _hand_over(hedda, colleague.id)
    assert "handed to you by Hedda Marrow" in colleague.visitor.open("/practice").text
    assert REASON in colleague.visitor.open(CASE).text
    colleague.visitor.fill("/hand-over/seen", {}, post_to=f"{CASE}/hand-over/seen")
    assert "Handed to you" not in colleague.visitor.text
    assert "handed to you" not in colleague.visitor.open("/practice").text


def test_nobody_but_a_colleague_of_the_same_practice_is_handed_a_client(site, hedda, colleague):
    jonas = site.db.execute("SELECT practitioner FROM clients WHERE id = ?", (site.organ_builder.id,)).fetchone()[0]
    for to in (jonas, site.hedda.id, 999, ""):
        assert _hand_over(hedda, to).status_code == 400
    assert _hand_over(hedda, colleague.id, " ").status_code == 400
    assert hedda.open(CASE).status_code == 200
    assert thread_of(site.db, site.founder.id) == []


def test_a_form_sent_twice_hands_over_once(site, hedda, colleague):
    hedda.open(f"{CASE}/hand-over")
    entries = hedda.form()
    entries.setlist("to", [str(colleague.id)])
    entries.setlist("handing_reason", [REASON])
    assert hedda.send(f"{CASE}/hand-over", entries).status_code == 303
    assert hedda.send(f"{CASE}/hand-over", entries).status_code == 303
    assert "Ansgar Tolle is handed over" in hedda.open("/practice").text
    assert hedda.open(f"{CASE}/hand-over").status_code == 404
    assert len(thread_of(site.db, site.founder.id)) == 1


def test_an_owner_hands_a_colleagues_clients_over_and_may_then_remove_the_colleague(site, hedda, colleague):
    path = f"/practice/staff/{colleague.id}"
    hedda.open(path)
    entries = {"clients": ["mirela0001"], "to": str(site.hedda.id), "handing_reason": "Signe is ill."}
    hedda.fill("/hand-over", entries, post_to=f"{path}/hand-over")
    assert "Handed over to Hedda Marrow" in hedda.text
    assert "Remove from the practice" in hedda.text
    assert hedda.open("/practice/cases/mirela0001").status_code == 200
    assert colleague.visitor.open("/practice/cases/mirela0001").status_code == 404
    assert cases.of_practitioner(site.db, colleague.id) == []


def test_a_member_hands_nobody_elses_clients_over(site, colleague):
    entries = {"clients": ["ansgar0001"], "to": str(colleague.id), "handing_reason": "Mine."}
    assert colleague.visitor.send(f"/practice/staff/{site.hedda.id}/hand-over", entries).status_code == 404


@pytest.mark.parametrize(
    ("clients", "said"),
    [
        (["mirela0001"], "Nobody was handed over to Hedda Marrow"),
        (["mirela0001", "otti000001"], "Handed over to Hedda Marrow: 1. Not handed over: 1."),
    ],
)
def test_what_is_said_counts_only_who_was_moved(site, hedda, colleague, clients, said):
    cases.add(site.db, colleague.id, "otti000001", "Otti", "en", TOLD_LATER, site.clock())
    # As if somebody else moved her between the check of the form and the write.
    site.db.execute(
        "CREATE TRIGGER elsewhere BEFORE UPDATE OF practitioner ON clients WHEN old.public_id = 'mirela0001'"
        " BEGIN SELECT RAISE(IGNORE); END"
    )
    site.db.conn.commit()
    path = f"/practice/staff/{colleague.id}"
    hedda.open(path)
    entries = {"clients": clients, "to": str(site.hedda.id), "handing_reason": "Signe is ill."}
    hedda.fill("/hand-over", entries, post_to=f"{path}/hand-over")
    assert said in hedda.text
    deeds = [deed.act for deed in history.of_practice(site.db, site.hedda.practice, 1 << 53, 9)]
    assert deeds.count("practice.staff.hand_over") == len(clients) - 1
    assert ("practice.staff.hand_over_of" in deeds) == (len(clients) > 1)

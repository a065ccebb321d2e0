"""Paper at the desk: the sheet and its handing out, a week typed in, a table brought."""

import json
from datetime import date
from io import BytesIO

from tests.builders import days_of, morning
from tests.cast import FIRST_DAY, HEDDA
from tests.practice.paper.typed import week
from tests.practice.visitor import HEADERS
from webapp.records import events, routines
from webapp.sync.folding.fold import accounts_of

TODAY = date(2026, 3, 9)
HEAD = "on,arm,sessions,during,morning,sharp,done\n"


def _bring(hedda, path, text, **more):
    address = f"{path}/diary/table"
    hedda.open(address)
    token = hedda.form().to_dict()["csrf_token"]
    return hedda.send(address, {"csrf_token": token, "text": text} | more, follow=True)


def _log(site):
    return [(each.kind, each.on_day) for each in events.of_client(site.db, site.founder.id)]


def _account(site):
    return accounts_of(site.db, site.founder.id, TODAY)["right"]


def test_nothing_counts_before_the_signs_were_asked(site, hedda, path):
    hedda.open(f"{path}/sheet")
    entries = hedda.form().to_dict() | {"sheet_from": "2026-03-09"}
    assert hedda.send(f"{path}/sheet", entries).status_code == 400
    assert "this is needed" in hedda.text
    assert routines.find(site.db, site.founder.id, 1).received_on is None


def test_handing_out_twice_counts_once(site, hedda, path, out):
    assert _log(site) == [("screening_answered", "2026-03-02"), ("routine_received", "2026-03-02")]
    hedda.open(f"{path}/sheet")
    assert "This version counts from Mon 2 Mar 2026." in hedda.text


def test_a_week_typed_in_is_on_record_and_typing_it_again_changes_nothing(site, hedda, path, out):
    typed = {
        "morning_right_0": "2",
        "worst_right_0": "3",
        "morning_right_1": "1",
        "worst_right_1": "2",
        "sport_1": "60",
    }
    assert week(hedda, path, **typed).status_code == 200
    assert "The diary from Mon 2 Mar 2026 on is on record." in hedda.text
    count = len(_log(site))
    assert count == 2 + 5
    assert [each.facts.done for each in _account(site).days[:3]] == ["enough", "enough", "none"]
    address = f"{path}/diary?from=2026-03-02"
    hedda.open(address)
    assert hedda.form().to_dict()["worst_right_1"] == "2"
    old = hedda.form().to_dict()
    assert hedda.send(address, old, follow=True).status_code == 200
    assert hedda.send(address, {**old, "seen": "an old page"}, follow=True).status_code == 200
    assert len(_log(site)) == count


def test_a_number_past_ten_is_said_beside_its_day_and_everything_typed_stays(site, hedda, path, out):
    typed = {"morning_right_0": "17", "worst_right_1": "2"}
    assert week(hedda, path, **typed).status_code == 400
    assert "“17”" in hedda.text or '"17" is out of range' in hedda.text
    assert hedda.form().to_dict()["morning_right_0"] == "17"
    assert hedda.form().to_dict()["worst_right_1"] == "2"
    assert len(_log(site)) == 2


def test_a_day_to_come_takes_no_number(site, hedda, path, out):
    address = f"{path}/diary?from=2026-03-08"
    hedda.open(address)
    assert "morning_right_2" not in hedda.form()
    assert hedda.send(address, hedda.form().to_dict() | {"morning_right_2": "1"}).status_code == 400
    assert "still to come" in hedda.text


def test_a_phone_s_number_that_came_meanwhile_is_shown_before_the_worse_of_the_two_counts(site, hedda, path, out):
    hedda.open(f"{path}/diary?from=2026-03-02")
    before = hedda.form().to_dict()
    site.receive(site.founder, [morning(FIRST_DAY, 2, seq=1)])
    sent = hedda.send(f"{path}/diary?from=2026-03-02", {**before, "morning_right_0": "8", "worst_right_0": "1"})
    assert sent.status_code == 400
    assert "8 on paper, 2 from the phone. The worse counts: 8." in hedda.text
    assert _account(site).state.mode == "training"
    assert hedda.fill("", {}, post_to=f"{path}/diary?from=2026-03-02", follow=True).status_code == 200
    assert "the worse of the two counts" in hedda.text
    assert _account(site).facts[FIRST_DAY].during == 1
    assert _account(site).state.mode == "held"


def test_a_better_number_on_paper_leaves_the_phone_s(site, hedda, path, out):
    site.receive(site.founder, days_of(FIRST_DAY, [(4, 5)]))
    count = len(_log(site))
    assert week(hedda, path, morning_right_1="1", worst_right_0="2").status_code == 200
    assert len(_log(site)) == count
    assert "the worse of the two counts" in hedda.text


def test_a_rating_beside_nothing_done_stays_as_it_was_typed(site, hedda, path, out):
    assert week(hedda, path, worst_right_0="8", done_right_0="0").status_code == 200
    assert _account(site).state.mode == "held"
    hedda.open(f"{path}/diary?from=2026-03-02")
    assert (hedda.form()["worst_right_0"], hedda.form()["done_right_0"]) == ("8", "0")


def test_sharp_pain_on_paper_can_be_ticked_beside_a_session_of_the_phone(site, hedda, path, out):
    site.receive(site.founder, days_of(FIRST_DAY, [(2, 1)]))
    assert week(hedda, path, sharp_right_0="yes").status_code == 200
    assert _account(site).state.mode == "held"


def test_a_stop_typed_in_yesterday_is_not_taken_out_of_the_week(site, hedda, path, out):
    week(hedda, path, morning_right_2="8")
    site.clock.pass_by(days=1)
    hedda.sign_in(HEDDA.email, HEDDA.password)
    assert week(hedda, path, morning_right_2="1").status_code == 400
    assert "Wed 4 Mar 2026 stopped an arm, and only a release ends a stop" in hedda.text
    assert hedda.form()["morning_right_2"] == "1"
    assert _account(site).state.mode == "held"


def test_another_window_s_week_is_not_typed_over_unseen(site, hedda, path, out):
    address = f"{path}/diary?from=2026-03-02"
    hedda.open(address)
    before = hedda.form().to_dict()
    week(hedda, path, morning_right_0="2")
    assert hedda.send(address, {**before, "morning_right_0": "4"}).status_code == 400
    assert "4 here, 2 was typed in before" in hedda.text
    assert hedda.fill("", {}, post_to=address).status_code == 200


def test_a_sign_on_the_paper_holds_from_its_day(site, hedda, path, out):
    week(hedda, path, sign="hot_swollen", sign_on="2026-03-04", morning_right_0="1")
    assert _account(site).state.mode == "held"
    assert "Held" in hedda.text


def test_a_sign_without_its_day_is_asked_for_it(site, hedda, path, out):
    assert week(hedda, path, sign="hot_swollen", morning_right_0="1").status_code == 400
    assert "Its day: this is needed" in hedda.text
    assert week(hedda, path, sign="no such sign", sign_on="2026-03-04").status_code == 400
    assert len(_log(site)) == 2


def test_a_table_is_shown_first_and_taken_in_once(site, hedda, path, out):
    text = HEAD + "2026-03-02,right,1,2,1,no,\n2026-03-03,right,1,3,2,no,50\n2026-03-04,right,,,8,,\n"
    assert "4 days have something new" in _bring(hedda, path, text).text
    assert len(_log(site)) == 2
    _bring(hedda, path, text, step="take")
    count = len(_log(site))
    assert count == 2 + 5
    assert _account(site).state.mode == "held"
    assert [each.facts.done for each in _account(site).days[:2]] == ["enough", "part"]
    _bring(hedda, path, text, step="take")
    assert len(_log(site)) == count
    assert "Nothing in it is new" in _bring(hedda, path, text).text


def test_a_table_with_faults_names_each_line_and_takes_nothing(site, hedda, path, out):
    text = HEAD + "2026-03-02,right,1,17,1,no,\n2026-13-01,left,1,1,1,no,\n2026-03-09,right,1,1,1,no,\n"
    assert _bring(hedda, path, text).status_code == 400
    for said in ("line 2", "line 3", "17"):
        assert said in hedda.text
    assert len(_log(site)) == 2
    assert _bring(hedda, path, HEAD + "2026-03-09,right,1,1,1,no,\n").status_code == 400
    assert "after today" in hedda.text
    assert _bring(hedda, path, HEAD + "2026-03-01,right,1,1,1,no,\n").status_code == 400
    assert "before the first routine" in hedda.text


def test_a_table_of_another_country_is_read_and_ten_thousand_faulty_rows_are_not_all_listed(site, hedda, path, out):
    text = "\ufeff" + HEAD.replace(",", ";") + "2026-03-02;right;1;2,0;1;no;\r\n;;;;;;\r\n"
    assert "2 days have something new" in _bring(hedda, path, text.removeprefix("\ufeff")).text
    assert _bring(hedda, path, HEAD + "3.3.2026,right,1,2,1,no,\n").status_code == 400
    assert "line 2" in hedda.text
    assert "can be read in two ways" in hedda.text
    assert _bring(hedda, path, HEAD + "x,right\n" * 10_000).status_code == 400
    assert "and 9900 more" in hedda.text.replace("9,900", "9900")
    assert _bring(hedda, path, HEAD + "2026-03-02,right,1,2,1,no,\n" * 10_000).status_code == 400
    assert "bring it in parts" in hedda.text
    assert len(_log(site)) == 2


def test_a_file_that_is_no_text_is_refused(site, hedda, path, out):
    hedda.open(f"{path}/diary/table")
    token = hedda.form().to_dict()["csrf_token"]
    sent = {"csrf_token": token, "file": (BytesIO(b"\xff\xfe\x00"), "diary.csv")}
    hedda.page = hedda.client.post(f"{path}/diary/table", data=sent, headers=HEADERS)
    assert hedda.page.status_code == 400
    assert "UTF-8" in hedda.text


def test_a_table_without_anything_in_it_asks_for_the_file(hedda, path, out):
    assert _bring(hedda, path, " \r\n").status_code == 400
    assert "diary.csv: it holds nothing. Choose the file of the diary." in hedda.text


def test_a_table_names_what_stays_as_the_phone_has_it(site, hedda, path, out):
    site.receive(site.founder, days_of(FIRST_DAY, [(4, 2)]))
    _bring(hedda, path, HEAD + "2026-03-02,right,1,2,2,no,\n2026-03-03,right,1,3,2,no,\n")
    assert "2 on paper, 4 from the phone" in hedda.text
    assert "2 days have something new" in hedda.text


def test_another_practice_s_case_has_no_paper(site, hedda):
    for page in ("sheet", "diary", "diary/table"):
        assert hedda.open(f"/practice/cases/{site.organ_builder.public_id}/{page}").status_code == 404


def test_what_is_typed_says_by_whom(site, hedda, path, out):
    week(hedda, path, morning_right_0="2")
    stored = events.latest_of(site.db, site.founder.id, ["morning_reported"], 1)[0]
    assert json.loads(stored.raw)["body"]["typed_by"] == site.hedda.name

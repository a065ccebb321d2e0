"""A routine is offered to the practice under a name; a colleague starts from the copy, and learns nothing of whose it was."""

from webapp.records import offered_routines, routines

CASE = "/practice/cases/ansgar0001"
OFFER = f"{CASE}/versions/1/offer"
LIST = "/practice/routines"
NAME = "Light start for potters"
SECRET = ("Ansgar", "Tolle", "ansgar0001", "1 lb")


def offer(hedda, name=NAME, path=OFFER):
    hedda.open(path)
    return hedda.fill("/offer", {"offered_as": name}, post_to=path)


def offered(site):
    return offered_routines.of_practice(site.db, site.hedda.practice)


def test_a_colleague_starts_from_a_copy_and_sees_by_whom_and_when_and_nothing_of_the_client(site, hedda, colleague):
    offer(hedda)
    assert f"“{NAME}” is offered to the practice." in hedda.text
    other = colleague.visitor
    page = other.open(LIST).text
    assert NAME in page
    assert "Offered by Hedda Marrow, Mon 9 Mar 2026" in other.text
    assert not [word for word in SECRET if word in page]
    desk = f"/practice/cases/{colleague.client.public_id}/routine"
    before = routines.latest(site.db, colleague.client.id)
    key = offered(site)[0].key
    assert f"Offered by Hedda Marrow, Mon 9 Mar 2026: {NAME}" in other.open(desk).text
    page = other.open(f"{desk}?start=offered-{key}").text
    assert not [word for word in SECRET if word in page]
    entries = other.form(f"start=offered-{key}")
    assert (entries["title"], entries["area"]) == (NAME, before.routine["area"])
    assert entries["usual"] == str(before.settings["usual"])
    assert routines.latest(site.db, colleague.client.id) == before, "nothing is pushed by that"
    assert "Take it back" not in other.open(LIST).text
    history = site.db.execute("SELECT what, client FROM history WHERE what = 'practice.routine.offer'").fetchall()
    assert history == [("practice.routine.offer", None)]


def test_what_the_colleague_changes_later_reaches_nobody(site, hedda):
    offer(hedda)
    before = offered(site)
    hedda.open(f"{CASE}/routine")
    hedda.fill("/routine", {"step": "preview", "goal_reps": "15", "title": "Another"}, post_to=f"{CASE}/routine")
    hedda.fill("/routine", {"step": "push"}, post_to=f"{CASE}/routine")
    assert routines.latest(site.db, site.founder.id).version == 2
    assert offered(site) == before


def test_what_was_accepted_or_set_for_the_client_alone_is_not_in_the_copy(site, hedda):
    first = routines.latest(site.db, site.founder.id)
    tuning = {**first.routine.get("tuning", {}), "accepted_jumps_kg": [2.0], "goal_reps": 15}
    routine = {**first.routine, "tuning": tuning}
    routines.push(site.db, site.founder.id, routine, first.settings, "For Ansgar.", site.hedda.id, site.clock())
    offer(hedda, path=f"{CASE}/versions/2/offer")
    (copy,) = offered(site)
    assert copy.routine["tuning"]["accepted_jumps_kg"] == []
    assert copy.routine["tuning"]["goal_reps"] == 15
    assert set(copy.routine) == {*first.routine, "tempo", "tuning"}, "a routine, and none of the settings of a client"
    assert "Ansgar" not in repr(copy)


def test_it_is_taken_back_by_who_offered_it_only_and_a_form_sent_twice_changes_nothing_twice(site, hedda, colleague):
    for _ in range(2):
        offer(hedda)
    (copy,) = offered(site)
    other = colleague.visitor
    offer_of_another = {"key": copy.key, "csrf_token": other.client.get(LIST).text}
    assert other.send(f"{LIST}/withdraw", offer_of_another).status_code == 303
    assert len(offered(site)) == 1
    hedda.open(LIST)
    back = hedda.form("/withdraw")
    for _ in range(2):
        hedda.send(f"{LIST}/withdraw", back)
    assert offered(site) == []
    desk = f"/practice/cases/{colleague.client.public_id}/routine"
    assert other.open(f"{desk}?start=offered-{copy.key}").status_code == 404


def test_an_owner_takes_back_what_somebody_offered_who_has_left(site, hedda, colleague):
    offer(hedda)
    (copy,) = offered(site)
    with site.db.conn:
        site.db.execute("UPDATE offered_routines SET practitioner = ?", (colleague.id,))
    hedda.open(LIST)
    assert "/withdraw" not in hedda.page.text, "who offered it still works here"
    with site.db.conn:
        site.db.execute("UPDATE practitioners SET removed_at = ? WHERE id = ?", (copy.offered_at, colleague.id))
    assert not offered_routines.withdraw(site.db, _id_of(site, site.organ_builder), copy.key, site.clock())
    assert len(offered(site)) == 1
    hedda.open(LIST)
    hedda.fill("/withdraw", {}, post_to=f"{LIST}/withdraw")
    assert offered(site) == []


def _id_of(site, client):
    return site.db.execute("SELECT practitioner FROM clients WHERE id = ?", (client.id,)).fetchone()[0]


def test_another_practice_sees_none_of_it_and_a_name_is_needed(site, hedda, jonas):
    offer(hedda)
    assert NAME not in jonas.open(LIST).text
    key = offered(site)[0].key
    assert jonas.open(f"/practice/cases/{site.organ_builder.public_id}/routine?start=offered-{key}").status_code == 404
    assert jonas.open(OFFER).status_code == 404
    assert offer(hedda, "  ").status_code == 400
    assert offer(hedda, "x" * 81).status_code == 400
    assert "x" * 81 in hedda.page.text

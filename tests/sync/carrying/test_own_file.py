"""Our own file: out of one database and into another, and what is refused."""

import json
from copy import deepcopy

import pytest

from tests.builders import days_of, empty_records, event, hire
from tests.cast import FIRST_DAY, HEDDA, JONAS, NOW
from webapp.library.faults import NotAcceptedError
from webapp.records import carrying, private_notes
from webapp.sync.carrying import bring_in, own_file
from webapp.sync.folding.fold import accounts_of


@pytest.fixture
def other(tmp_path):
    """Another practice's database, with nobody in it but its practitioner."""
    db = empty_records(tmp_path / "other.db")
    yield db, hire(db, JONAS).id
    db.close()


@pytest.fixture
def out(db, ansgar, mirela, send):
    """The file of two clients, one of them with a log."""
    received = event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=80)
    odd = {**event("morning_reported", FIRST_DAY, {"arms": {"right": {"pain": 2}}, "more": [1.0, "é"]}, seq=81), "z": 1}
    send(ansgar, received, odd, *days_of(FIRST_DAY, [(1, 2), (2, 3), (None, 1)]))
    private_notes.add(db, ansgar.id, "He files left-handed too.", 1, "a-key", NOW)
    return b"".join(own_file.write_file(db, carrying.keys(db), NOW))


def _faults(db, practitioner, changed):
    with pytest.raises(NotAcceptedError) as error:
        bring_in.bring_in(db, practitioner, json.dumps(changed).encode(), "file.json")
    return {(fault.key, fault.code) for fault in error.value.faults}


def test_what_goes_out_comes_in_equal_and_folds_to_the_same(db, ansgar, out, other):
    there, jonas = other
    assert bring_in.bring_in(there, jonas, out) == ["ansgar0001", "mirela0001"]
    again = json.loads(b"".join(own_file.write_file(there, carrying.keys(there), NOW)))
    (note,) = again["clients"][0].pop("notes")
    assert (note["by"], note["text"]) == (JONAS.name, f"He files left-handed too.\n({HEDDA.name})")
    sent = json.loads(out)
    sent["clients"][0].pop("notes")
    assert again == sent
    day = FIRST_DAY.replace(day=9)
    (key, _) = carrying.keys(there)
    assert accounts_of(there, key, day)["right"].state == accounts_of(db, ansgar.id, day)["right"].state


def test_a_client_who_is_here_already_is_refused_and_nothing_else_is_taken(db, out, other):
    there, jonas = other
    bring_in.bring_in(there, jonas, out)
    more = json.loads(out)
    more["clients"][0]["client"]["id"] = "another001"
    assert _faults(there, jonas, more) == {("client.id", "here_already")}
    assert len(carrying.keys(there)) == 2


def _broken(out):
    """Ways to spoil a file, each with the faults that it must be told with."""
    whole = json.loads(out)

    def spoilt(change):
        copy = deepcopy(whole)
        change(copy)
        return copy

    first = lambda copy: copy["clients"][0]  # noqa: E731
    return [
        (spoilt(lambda c: c.update(version=2)), ("format", "other_format")),
        (spoilt(lambda c: c.update(extra=1)), ("file", "not_ours")),
        (spoilt(lambda c: first(c)["client"].update(id="../x")), ("clients[1].client.id", "not_fitting")),
        (spoilt(lambda c: first(c)["client"].update(name=" ")), ("clients[1].client.name", "not_fitting")),
        (spoilt(lambda c: first(c)["client"].update(intake={"arms": []})), ("clients[1].client.intake", "not_fitting")),
        (spoilt(lambda c: first(c)["client"]["intake"].update(mass_kg="8 stone")), ("clients[1].client.intake", "not_fitting")),
        (spoilt(lambda c: first(c)["client"].update(created_at="soon")), ("clients[1].client.created_at", "not_fitting")),
        (spoilt(lambda c: first(c)["client"].update(locale=5)), ("clients[1]", "not_ours")),
        (spoilt(lambda c: c["clients"].append(first(c))), ("client.id", "twice")),
        (spoilt(lambda c: first(c)["versions"].append(first(c)["versions"][0])), ("clients[1].versions", "not_rising")),
        (spoilt(lambda c: first(c)["versions"][0].update(version=10**30)), ("clients[1].versions", "not_rising")),
        (spoilt(lambda c: first(c)["versions"][0]["settings"].update(usual=9)), ("clients[1].versions.1.usual", "out_of_range")),
        (spoilt(lambda c: first(c)["versions"][0].update(routine={"title": 5})), None),
        (spoilt(lambda c: first(c)["entries"].append(first(c)["entries"][0])), ("clients[1].entries[8].id", "twice")),
        (spoilt(lambda c: first(c)["entries"][0]["entry"].update(on="1")), ("clients[1].entries[1].on", "not_an_entry")),
        (spoilt(lambda c: first(c)["entries"][0].update(device="a phone; x" * 9)), ("clients[1].entries[1]", "not_fitting")),
        (spoilt(lambda c: first(c)["notes"].append(first(c)["notes"][0])), ("clients[1].notes[1]", "not_fitting")),
        (spoilt(lambda c: first(c)["entries"][0].update(entry=[1])), ("clients[1].entries[1].event", "not_an_entry")),
    ]  # fmt: skip


def test_each_spoilt_file_is_refused_with_its_fault_and_nothing_is_stored(out, other):
    there, jonas = other
    for spoilt, fault in _broken(out):
        found = _faults(there, jonas, spoilt)
        assert fault is None or fault in found, (fault, found)
    assert carrying.keys(there) == []


def test_all_faults_of_a_file_are_told_at_once(out, other):
    there, jonas = other
    spoilt = json.loads(out)
    spoilt["clients"][0]["client"]["id"] = "?"
    spoilt["clients"][1]["client"]["name"] = ""
    spoilt["clients"][0]["entries"][0]["entry"]["zone"] = 3
    assert len(_faults(there, jonas, spoilt)) == 3


@pytest.mark.parametrize("raw", [b"", b"[]", b"{", b"\xff", b"[" * 100_000, b'{"format": "halfturn-records"}'])
def test_what_is_no_such_file_is_refused(other, raw):
    there, jonas = other
    with pytest.raises(NotAcceptedError):
        bring_in.bring_in(there, jonas, raw)
    assert carrying.keys(there) == []


def test_the_practitioner_s_own_clients_are_the_caseload_s_and_no_other(db, out, hedda):
    jonas = hire(db, JONAS).id
    assert len(carrying.keys(db, hedda.id)) == 2
    assert carrying.keys(db, jonas) == []
    assert HEDDA.email.encode() not in out

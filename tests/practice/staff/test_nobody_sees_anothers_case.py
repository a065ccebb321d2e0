"""Every address of the desk that names a case, walked by those whose case it is not."""

import pytest

from tests.practice.conftest import Site
from tests.practice.staff.conftest import Colleague, signed_in
from tests.practice.visitor import HEADERS, Visitor
from webapp.records import members

UNKNOWN = "nobody0001"


def _addresses(site: Site, public_id: str) -> list[tuple[str, str]]:
    """Every method and address of the desk that names a case, with that case in it."""
    found = []
    with site.app.test_request_context():
        urls = site.app.create_url_adapter(None)
        for rule in site.app.url_map.iter_rules():
            if rule.endpoint.startswith("practice.") and "public_id" in rule.arguments:
                others = {
                    name: 1 if name in rule._converters and _is_number(rule, name) else "b" for name in rule.arguments
                }
                path = urls.build(rule.endpoint, {**others, "public_id": public_id})
                found += [(method, path) for method in sorted(rule.methods & {"GET", "POST"})]
    return found


def _is_number(rule, name: str) -> bool:
    return type(rule._converters[name]).__name__ == "NumberConverter"


def _answers(site: Site, visitor: Visitor, public_id: str) -> list[tuple[int, str]]:
    """The answers at every address of a case; the case's own id in them is made the same for all."""
    answers = []
    for method, path in _addresses(site, public_id):
        answer = visitor.client.open(path, method=method, headers=HEADERS)
        where = answer.headers.get("Location", "").replace(public_id, "<id>")
        answers.append((answer.status_code, where + answer.text.replace(public_id, "<id>")))
    return answers


def _content(site: Site) -> dict[str, list]:
    """Every row that is not worked out anew, but for when a sign-in was last seen."""
    derived = {"folded", "bundles", "summaries", "guidance", "practitioner_sessions", "settings"}
    tables = [name for name in site.db.table_names() if name not in derived]
    return {name: site.db.execute(f"SELECT * FROM {name}").fetchall() for name in tables}


def _sees_nothing(site: Site, visitor: Visitor, public_id: str, status: int) -> None:
    before = _content(site)
    answers = _answers(site, visitor, public_id)
    assert {code for code, _ in answers} == {status}
    # Nothing tells a case of somebody else from one that does not exist.
    assert answers == _answers(site, visitor, UNKNOWN)
    assert _content(site) == before


def test_the_walk_has_addresses_and_its_own_practitioner_is_let_in(site, hedda):
    addresses = _addresses(site, site.founder.public_id)
    assert len({path for _, path in addresses}) > 15
    assert hedda.open("/practice/cases/ansgar0001").status_code == 200
    assert hedda.open("/practice/cases/ansgar0001/account").status_code == 200


def test_a_colleague_sees_nothing_of_the_owners_case(site, colleague: Colleague):
    _sees_nothing(site, colleague.visitor, site.founder.public_id, 404)


def test_an_owner_sees_nothing_of_a_colleagues_case(site, hedda, colleague: Colleague):
    _sees_nothing(site, hedda, colleague.client.public_id, 404)


def test_a_practitioner_of_another_practice_sees_nothing(site, jonas):
    _sees_nothing(site, jonas, site.founder.public_id, 404)


def test_a_stranger_is_sent_to_the_door(site, visitor):
    _sees_nothing(site, visitor, site.founder.public_id, 303)


def test_a_member_who_was_removed_is_sent_to_the_door(site, colleague: Colleague):
    site.db.execute("UPDATE clients SET practitioner = ? WHERE id = ?", (site.hedda.id, colleague.client.id))
    site.db.conn.commit()
    members.remove(site.db, site.hedda.practice, colleague.id, site.clock())
    _sees_nothing(site, colleague.visitor, colleague.client.public_id, 303)
    # A cookie that came back from somewhere opens nothing either.
    _sees_nothing(site, signed_in(site, colleague.id), colleague.client.public_id, 303)


@pytest.mark.parametrize("path", ["/practice", "/practice/add", "/practice/account", "/practice/staff"])
def test_no_page_names_the_client_of_somebody_else(path, site, hedda, jonas, colleague: Colleague):
    assert "Ansgar" not in colleague.visitor.open(path).text
    assert "Mirela" not in hedda.open(path).text
    assert "Ansgar" not in jonas.open(path).text
    assert "Mirela" not in jonas.open(path).text


def test_only_an_owner_of_the_same_practice_reads_the_names_of_a_colleagues_clients(site, hedda, jonas, colleague):
    path = f"/practice/staff/{colleague.id}"
    assert "Mirela Quist" in hedda.open(path).text
    assert jonas.open(path).status_code == 404
    assert colleague.visitor.open(path).status_code == 404
    assert colleague.visitor.open(f"/practice/staff/{site.hedda.id}").status_code == 404

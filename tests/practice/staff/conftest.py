"""Hedda's practice with a colleague, Signe, who has a client of her own; and visitors who are signed in."""

from dataclasses import dataclass
from hashlib import sha256

import pytest

from tests.builders import Enrolled, enrol, let_in
from tests.cast import BOOKBINDER, Person
from tests.practice.conftest import Site
from tests.practice.visitor import Visitor
from webapp.records import members, practitioners

# Works in Hedda's practice, with Mirela the bookbinder as her client.
SIGNE = Person("Signe Aldin", "signe@marrow.example", "three herons over the weir")


@dataclass
class Colleague:
    """A member of Hedda's practice, signed in, and the member's client."""

    id: int
    visitor: Visitor
    client: Enrolled


def signed_in(site: Site, practitioner: int) -> Visitor:
    """A browser in which a practitioner is signed in."""
    visitor, token = site.visitor(), f"signed-in-{practitioner}"
    digest = sha256(token.encode()).hexdigest()
    practitioners.begin_sign_in(site.db, practitioner, digest, site.clock(), site.clock())
    visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    return visitor


@pytest.fixture
def colleague(site: Site) -> Colleague:
    """Signe, who has set her password by the owner's link."""
    member = members.add(site.db, site.hedda.practice, SIGNE.name, SIGNE.email, site.clock())
    let_in(site.db, member, site.clock())
    return Colleague(member, signed_in(site, member), enrol(site.db, member, BOOKBINDER))


@pytest.fixture
def jonas(site: Site) -> Visitor:
    """Jonas of another practice, signed in."""
    row = site.db.execute("SELECT practitioner FROM clients WHERE id = ?", (site.organ_builder.id,)).fetchone()
    return signed_in(site, row[0])

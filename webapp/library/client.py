"""A client, as a TOML file or as the same mapping stored.

mass_kg = 64
height_m = 1.68
sex = "female"                   # or "male"; left out: the mean of both
arms = ["right"]                 # or ["right", "left"]
weights_kg = [0, 0.5, 1]         # what is at home, 0 among them
usual = 2                        # usual morning pain, 0 to 3; 4 or 5 only with the next line
clinician_seen = true            # left out: false. A clinician has seen the arm
start_rungs = { right = 2 }      # an arm left out: by usual pain

[[weights]]                      # may be left out: the weights as they were entered,
value = 1                        # for words such as "1 lb"
unit = "lb"
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import floor
from pathlib import Path
from typing import Any

from webapp.dosing.faults import faults_of_client
from webapp.dosing.figures import POUND
from webapp.dosing.settings import ARMS, BOUNDS, Body, Bound, Client, EasesByHand, StartRungs
from webapp.library.page import NUMBER_CODES, Page, Table, open_page

KEYS = (
    "mass_kg",
    "height_m",
    "sex",
    "arms",
    "weights_kg",
    "usual",
    "clinician_seen",
    "start_rungs",
    "weights",
    "eases",
)
BODY_KEYS = ("mass_kg", "height_m", "sex")
UNITS = ("kg", "lb")


@dataclass(frozen=True)
class ClientFile:
    """A client, and their weights as entered: mappings with `value` and `unit` ("kg" or "lb")."""

    client: Client
    weights: tuple[Mapping[str, Any], ...]


def _read_weight(table: Table) -> dict[str, Any]:
    table.only("value", "unit")
    unit = table.choice("unit", UNITS)
    return {"value": table.number("value", bound=_bound_in(unit)), "unit": unit}


def _bound_in(unit: str) -> Bound:
    most = BOUNDS["weight_kg"]
    return most if unit != "lb" else most._replace(high=floor(100 * most.high / POUND.value) / 100, unit="lb")


def _read_body(table: Table) -> Body:
    return Body(table.number("mass_kg"), table.number("height_m"), table.entries.get("sex"))


def _read_start_rungs(table: Table) -> StartRungs:
    table.only(*ARMS)
    return StartRungs(*(table.number(arm, None, BOUNDS["start_rung"]) for arm in ARMS))


def _read_eases(table: Table) -> EasesByHand:
    table.only(*ARMS)
    return EasesByHand(*(table.number(arm, None, BOUNDS["ease"]) for arm in ARMS))


def _read(page: Page, entries: Any) -> ClientFile:
    table = Table(page, entries)
    table.only(*KEYS)
    client = Client(
        body=_read_body(table),
        arms=table.texts("arms"),
        weights_kg=table.numbers("weights_kg", BOUNDS["weight_kg"]),
        usual=table.number("usual"),
        start_rungs=_read_start_rungs(table.table("start_rungs")),
        clinician_seen=table.truth("clinician_seen", default=False),
        eases=_read_eases(table.table("eases")),
    )
    weights = tuple(_read_weight(entry) for entry in table.tables("weights"))
    _check_together(table, client)
    page.settle()
    return ClientFile(client, weights)


def _check_together(table: Table, client: Client) -> None:
    faulty = {fault.key for fault in table.page.faults}
    for found in faults_of_client(client):
        if found.code in NUMBER_CODES or (found.field in faulty and found.code in {"wrong_count", "not_one_of"}):
            continue
        code = "some_of" if found.field == "arms" else found.code
        table.page.fault(found.field, found.value, code, found.rule)


def read_client_file(entries: Mapping[str, Any]) -> ClientFile:
    """Read a stored mapping, together with the weights as they were entered.

    Raises:
        NotAcceptedError: With every fault; `file` is "" and `line` None in each.
    """
    return _read(Page(), entries)


def read_client(entries: Mapping[str, Any]) -> Client:
    """Read a stored mapping into the core's client.

    Raises:
        NotAcceptedError: With every fault.
    """
    return read_client_file(entries).client


def load_client_file(path: Path) -> ClientFile:
    """Read a TOML file, together with the weights as they were entered.

    Raises:
        NotAcceptedError: With every fault, each with its line.
    """
    page, entries = open_page(path)
    return _read(page, entries)


def load_client(path: Path) -> Client:
    """Read a TOML file into the core's client.

    Raises:
        NotAcceptedError: With every fault, each with its line.
    """
    return load_client_file(path).client

"""The client that the forecasts of these tests are for, and runs made once."""

from functools import cache

from webapp.dosing.figures import POUND
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.settings import Body, Client, Routine
from webapp.forecast.course import Course, run
from webapp.forecast.prescribers import OurRules, Tables
from webapp.forecast.responders import draw

# Mends nets; six weights, nought to five pounds.
NET_MENDER = Client(Body(70, 1.75, "male"), ("right",), tuple(POUND.value * pounds for pounds in range(6)), 1)
SEED = 11


@cache
def plan() -> Plan:
    return make_plan(Routine("Nets", "outer_elbow"), NET_MENDER)


@cache
def tables() -> Tables:
    return Tables(plan())


def look_ahead(seed: int = SEED, clients: int = 40, days: int = 84) -> Course:
    cohort = draw(NET_MENDER, clients, days, seed)
    return run(OurRules(tables(), cohort.count), cohort, tables().cube)

"""The client that the forecasts of these tests are for, and runs made once."""

from dataclasses import replace
from functools import cache

from webapp.dosing.figures import POUND
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.settings import Body, Client, Routine
from webapp.forecast.course import CohortCourse, run
from webapp.forecast.populations import ORDINARY, Population
from webapp.forecast.prescribers import OurRules, Tables
from webapp.forecast.responders import draw

# Mends nets; six weights, nought to five pounds.
NET_MENDER = Client(Body(70, 1.75, "male"), ("right",), tuple(POUND.value * pounds for pounds in range(6)), 1)
SEED = 11


@cache
def plan() -> Plan:
    return make_plan(Routine("Nets", "outer_elbow"), NET_MENDER)


@cache
def tables(usual: int = NET_MENDER.usual) -> Tables:
    return Tables(make_plan(plan().routine, replace(NET_MENDER, usual=usual, clinician_seen=True)))


def look_ahead(
    seed: int = SEED, clients: int = 40, days: int = 84, population: Population = ORDINARY, *, acts: bool = False
) -> CohortCourse:
    usual = NET_MENDER.usual if population.agreed_usual is None else population.agreed_usual
    known = tables(usual)
    cohort = draw(known.plan.client, clients, days, seed, population=population)
    return run(OurRules(known, cohort.count, acts=acts), cohort, known.plan)

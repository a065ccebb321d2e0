"""Who tells a rule's story, under any table of rules, so that a wrong table can be caught by the stories."""

from tests.dosing.spread import plan_for
from webapp.dosing.closing import close_day
from webapp.dosing.rules import TABLE, Table

PLAN = plan_for()
STORIES = []
DAY = ("settled",)


def story(tell):
    STORIES.append(tell)
    return tell


class Teller:
    """Closes days under one table of rules."""

    def __init__(self, table: Table = TABLE):
        self.table = table

    def after(self, state, *responses, plan=PLAN):
        for response in responses:
            state = close_day(plan, state, response, self.table).state
        return state

    def why(self, state, response, plan=PLAN):
        return close_day(plan, state, response, self.table).reasons

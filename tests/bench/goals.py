"""Rows of figures, some beside a goal."""


class Goals:
    def __init__(self):
        self.missed = 0

    def row(self, name, value, most=None, least=None):
        """most, least: the goal, if there is one."""
        missed = (most is not None and value > most) or (least is not None and value < least)
        goal = f"goal at most {most:,}" if most is not None else f"goal at least {least:,}" if least is not None else ""
        self.missed += missed
        print(f"{name:<66} {value:>14,.2f}  {goal}{': ' if goal else ''}{'MISSED' if missed else 'reached' if goal else ''}",
              flush=True)

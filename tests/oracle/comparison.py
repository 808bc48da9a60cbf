"""What every comparison of a plan with the oracle gathers: lines to print where the two differ."""


class Differences:
    def __init__(self):
        self.differences = []

    def differ(self, where, what, got, expected):
        self.differences.append('%s: %s is %s, expected %s' % (where, what, got, expected))

    def same(self, where, what, got, expected):
        if got != expected:
            self.differ(where, what, got, expected)
        return got == expected

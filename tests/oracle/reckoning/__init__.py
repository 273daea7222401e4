"""An independent reckoning of a season: need, credits, what is short, and doses at the published weeks.

Written from the rules alone, in exact fractions of kilograms and metres; only curves are floats. A season
that asks for more than is reckoned here is refused, never half reckoned.
"""


class NotReckoned(Exception):
    """The season holds something that this reckoning does not cover."""

"""The editions that the cases were written for. Another edition in the rule data breaks none of them."""

WRITTEN_FOR = ("2016", "draft-2017", "2019", "2023")
"""Cases, examinations and readings name what each of these says, from its own text."""

ASKED_BY_NAME = tuple(word for edition in WRITTEN_FOR for word in ("--book", edition))
"""The words of a command line that asks for these and no other."""

"""What a rule does, and whether anybody would rather leave under it, in words that name no figure."""

RULES = {
    "by_weight": "Each pays by weight: a kilogram costs the same for all.",
    "equal": "Each pays the same, however much fish is hers.",
    "serial": "What the smallest lots would cost is shared by all alike, what more costs by the larger ones.",
    "shapley": "Each pays what her fish adds to the cost, on average over every order of joining.",
    "nucleolus": "The split under which whoever saves least by sharing saves as much as can be.",
    "capped": "Each pays by weight, but nobody more than alone.",
}
REASONS = {
    "alone": "All the fish is hers, so all of the bill is, too.",
    "nobody_would_leave": "Nobody would do better by leaving.",
    "some_would_leave": "Some would do better by leaving together.",
    "no_split_is_stable": "Whatever the split, some would do better by leaving together.",
    "too_many_to_tell": "There are too many to tell whether some would do better by leaving.",
}
NOT_FEASIBLE = "Alone they would pay less in all than this bill: it cannot be kept below that for everybody."


def words_of(found):
    """Of a selectors' RuleSplit."""
    said = [RULES[found.rule], REASONS[found.why]]
    return " ".join(said if found.feasible else [*said, NOT_FEASIBLE])

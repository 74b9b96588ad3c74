"""What stands on a buyer's page, line by line, ready to be laid out."""

from api.quote_words import Speech, fish_name
from coop.selectors.quotes import EXPIRED, most_left
from coop.selectors.quotes_ladder import price_of, total_of

CARE = ("care.estimate", "care.local_rule", "care.no_refreeze", "care.clean_bags")


def told_only(say, name, **values):
    """A page that says one thing, and shows no quote."""
    return {
        "language": say.language,
        "title": say(f"{name}.title"),
        "said": [{"words": say(name, **values), "warns": True}],
    }


def sheet_of(quote, *, kg=None, failure=None):
    """Everything on the page of a quote of quotes_of; kg is what somebody wants to know the cost of."""
    figures = quote.figures
    say = Speech(quote.language, figures["time_zone"])
    title = say("title", fish=fish_name(figures["species"], say.language))
    if quote.shown_state == "revoked":
        # What was taken back is told no more.
        return {"language": say.language, "title": title, "said": state_said(say, quote, None)}
    left, is_open = most_left(quote), quote.shown_state == "issued"
    wanted = chosen_kg(quote, kg, left) if is_open and left is not None else quote.accepted_kg
    return {
        "language": say.language,
        "title": title,
        "opening": opening_of(say, quote),
        "said": [*failure_said(say, failure), *state_said(say, quote, left)],
        "words": {name: say(f"price.{name}") for name in ("weight", "kilogram")} | {"price": say("price")},
        "prices": [price_row(say, figures, step, wanted) for step in figures["ladder"]],
        "choice": choice_of(say, quote, left, wanted, asked=kg) if is_open and left is not None else None,
        "parts": parts_of(say, quote),
        "answers": answers_of(say, is_open, quote.shown_state == "accepted"),
        "footing": "" if say.read_by_native else say("native.no"),
    }


def money(say, figures, minor):
    return say.money(minor, figures["currency"], figures["currency_decimals"])


def opening_of(say, quote):
    figures = quote.figures
    return [
        say("from", member=figures["member"]["name"], cooperative=figures["cooperative"]["name"]),
        say("for", buyer=figures["buyer"]["name"], day=say.day(quote.issued_at)),
    ]


def failure_said(say, failure):
    if failure is None:
        return []
    values = {name: say.number(value) for name, value in failure.values.items()}
    return [{"words": say(failure.name, **values), "warns": True}]


def state_said(say, quote, left):
    """What became of it, in words."""
    state, figures = quote.shown_state, quote.figures
    if state == "accepted":
        total = money(say, figures, total_of(figures, quote.accepted_kg))
        values = {"kg": say.number(quote.accepted_kg), "money": total}
        accepted = say("state.accepted", instant=say.instant(quote.answered_at), **values)
        return [{"words": f"{accepted} {say('state.accepted.next')}", "warns": False}]
    if state == "declined":
        return [{"words": say("state.declined", instant=say.instant(quote.answered_at)), "warns": True}]
    if state == EXPIRED:
        return [{"words": say("state.expired", instant=say.instant(quote.valid_until)), "warns": True}]
    if state == "revoked":
        return [{"words": say("state.revoked"), "warns": True}]
    return [] if left is not None else [{"words": say("state.gone"), "warns": True}]


def price_row(say, figures, step, kg):
    """From so many kilograms this price, and what the least of them come to."""
    first, last = (say.number(step[name]) for name in ("from_kg", "to_kg"))
    least = money(say, figures, total_of(figures, step["from_kg"]))
    return {
        "weight": first if first == last else say("price.from_to", **{"from": first}, to=last),
        "kilogram": money(say, figures, step["price_minor_per_kg"]),
        "whole": say("price.whole", kg=first, money=least),
        "chosen": kg is not None and step["from_kg"] <= kg <= step["to_kg"],
    }


def chosen_kg(quote, kg, left):
    """The weight that the page shows: what was asked for where it is to be had, or else the most."""
    is_offered = kg is not None and price_of(quote.figures, kg) is not None
    return kg if is_offered and kg <= left else left


def choice_of(say, quote, left, kg, *, asked):
    """How many kilograms, and once somebody said so the button that accepts them."""
    figures = quote.figures
    total = money(say, figures, total_of(figures, kg))
    step = say.number(figures["step_kg"])
    hint = say("choose.hint", **{"from": say.number(quote.least_kg)}, to=say.number(left), step=step)
    found = {
        "label": say("choose"),
        "hint": hint if asked in (None, kg) else f"{say('failed.kg')} {hint}",
        "left": say("choose.left", kg=say.number(left)) if left < quote.most_kg else "",
        "look": say("choose.look"),
        # As a form takes them: with a point, whatever the language.
        **{name: f"{value:g}" for name, value in (("least", quote.least_kg), ("most", left), ("kg", kg))},
        "step": f"{figures['step_kg']:g}",
    }
    if asked != kg:
        return found
    price = money(say, figures, price_of(figures, kg))
    shown = say.number(kg)
    return found | {
        "total": say("total", kg=shown, money=total, price=price),
        "name": say("accept.name"),
        "accept": say("accept", kg=shown, money=total),
        "note": say("accept.note"),
    }


def parts_of(say, quote):
    """What stands below the prices, each under its title."""
    figures = quote.figures
    promised = when_of(say, figures), sure_of(say, figures), valid_of(say, quote)
    return [*promised, *asked_of(say, quote), care_of(say, figures)]


def when_of(say, figures):
    leaves = say(
        "when.leaves",
        place=figures["origin"],
        instant=say.instant(figures["departs_at"]),
        carrier=figures["carrier"]["name"],
    )
    begins, ends = say.span(figures["arrives_from"], figures["arrives_until"])
    is_one = figures["arrives_from"] == figures["arrives_until"]
    return {
        "title": say("when"),
        "lines": [
            leaves,
            *([say("when.full")] if figures["leaves_when_full"] else []),
            say("when.arrives.at" if is_one else "when.arrives", **{"from": begins}, until=ends),
            say("clock", place=figures["destination"]),
        ],
    }


def sure_of(say, figures):
    limit = say.limit(figures["limit_kind"], figures["limit_value"])
    return {"title": say("sure"), "lines": [say.chance(figures["chance_hard"]), limit]}


def valid_of(say, quote):
    because = quote.figures["valid_until_because"]["code"]
    return {
        "title": say("valid", instant=say.instant(quote.valid_until)),
        "lines": [say(f"valid.{because}")],
    }


def asked_of(say, quote):
    """What was asked so far, so that nobody asks it twice."""
    asked = list(quote.questions.all())
    if not asked:
        return []
    lines = [f"{say('ask.asked', instant=say.instant(one.asked_at))} {one.text}" for one in asked]
    return [{"title": say("ask"), "lines": lines}]


def care_of(say, figures):
    prone = ["care.histamine"] if figures["species"]["histamine_prone"] else []
    return {"title": say("care"), "lines": [say(name) for name in (*CARE, *prone)]}


def answers_of(say, is_open, is_accepted):
    """The words of the forms that still do something."""
    found = {}
    if is_open or is_accepted:
        found |= {name: say(f"ask.{name}") for name in ("text", "send", "answered")} | {"ask": say("ask")}
    if is_open:
        found |= {"decline": say("decline"), "why": say("decline.note")}
    return found

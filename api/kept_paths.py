"""Which paths the screens of each role ask: what a phone keeps of them, and what it does not, and why."""

from typing import NamedTuple

from api.cooperative import MANAGER, MEMBER, PACKER

START = "/api/v1/"
ALL = "?page_size=100"
MOST_ONES = 40
"""Of a list the first so many come one by one, too: more nobody opens from one download to the next."""
NOT_OVER = ("open", "closed", "departed", "handed_over")


class Listed(NamedTuple):
    """A list, and the paths of its rows that screens open; `{id}` and the like stand for the row's."""

    path: str
    ones: tuple = ()
    opened: object = None
    """Which rows are opened, where not all are."""


def open_or_mine(parcel):
    return parcel["mine"] is not None or parcel["state"] == "open"


def not_over(parcel):
    return parcel["state"] in NOT_OVER


CHOICES = tuple(
    Listed(f"{name}/{ALL}") for name in ("cooperatives", "routes", "species", "buyers", "carton-designs")
)
OWN = (
    Listed(f"lots/{ALL}", ("lots/{id}/",)),
    Listed(f"parcels/{ALL}", ("parcels/{id}/", "parcels/{id}/split/"), open_or_mine),
    Listed(f"statement/{ALL}"),
    Listed(f"claims/{ALL}", ("claims/{id}/",)),
    Listed(f"quotes/{ALL}", ("quotes/{id}/",)),
)
PACKING = (
    Listed(f"parcels/{ALL}", ("parcels/{id}/", "parcels/{id}/split/", "parcels/{id}/papers/"), not_over),
    Listed(f"members/{ALL}"),
    Listed(f"statements/{ALL}", ("statements/{member[id]}/" + ALL,)),
    Listed("quotes/losing/"),
)
FARES = ("tariffs", "timetables", "fish-prices", "material-prices", "charges", "buyer-limits", "terms")
MANAGING = (
    Listed("old-prices/"),
    *(Listed(f"{name}/{ALL}", (f"{name}/{{id}}/",)) for name in FARES),
    # Cartons are told by a day: versions of a year from now are those that come.
    Listed(f"carton-designs/{ALL}&on={{in_a_year}}"),
    Listed(f"carriers/{ALL}"),
    Listed(f"materials/{ALL}"),
    Listed(f"phones/{ALL}"),
)
PATHS = {
    MEMBER: CHOICES + OWN,
    PACKER: CHOICES + tuple(one for one in OWN if not one.path.startswith("parcels")) + PACKING,
}
PATHS[MANAGER] = PATHS[PACKER] + MANAGING
DEPARTURES = ("departures/?", "departures/{id}/?", "timetables/{id}/")
"""Besides, for everybody: departures of a question, the first of them in full, and their timetables."""
NOT_KEPT = {
    "carton-designs/{slug}/?on=…": "a new version is written with a signal; the list has the figures",
    "demonstration/": "for visitors",
    "departures/{id}/reckoning/?…": "takes the server long; asked for while the line is idle",
    "history/?…": "page by page, as a manager looks for something",
    "me/": "kept with the token, under the same lock",
    "plans/{id}/": "made on request, and old within the hour",
    "ways/?…": "differs with every hour; the next departures show what is safe",
}
"""What screens ask besides, and why it comes only when it is asked for."""

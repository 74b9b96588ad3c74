"""What a calendar says, in the languages that are spoken here; others read English.

The French was not checked by a native reader.
"""

WORDS = {
    "en": {
        "calendar": "Departures of {cooperative}",
        "departure": "Close {closes}, leaves {leaves}: {route}",
        "leaves_by": "Not later than this: {route}, {carrier}",
        "not_left": "Has it not left? Then the cartons go back into the freezer.",
        "told": "{carrier}. {cartons} cartons, {mass} kg, for {buyer}.",
    },
    "fr": {
        "calendar": "Départs de {cooperative}",
        "departure": "Fermer à {closes}, départ à {leaves} : {route}",
        "leaves_by": "Pas plus tard : {route}, {carrier}",
        "not_left": "Pas encore parti ? Alors les cartons retournent au congélateur.",
        "told": "{carrier}. {cartons} cartons, {mass} kg, pour {buyer}.",
    },
}


def words_of(language):
    return WORDS.get(language, WORDS["en"])

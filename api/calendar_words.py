"""What a calendar says, in the languages that are spoken here; another reads English.

None was checked by a native reader.
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
    "mg": {
        "calendar": "Fiaingan’ny baoritra, {cooperative}",
        "departure": "Akatony {closes}, miainga {leaves}: {route}",
        "leaves_by": "Tsy mihoatra izao: {route}, {carrier}",
        "not_left": "Tsy mbola niainga? Averina ao anaty kongelatera àry ny baoritra.",
        "told": "{carrier}. Baoritra {cartons}, {mass} kg, ho an’i {buyer}.",
    },
    "sw": {
        "calendar": "Safari za {cooperative}",
        "departure": "Funga {closes}, inaondoka {leaves}: {route}",
        "leaves_by": "Mwisho wa kuondoka: {route}, {carrier}",
        "not_left": "Bado haijaondoka? Basi rudisha katoni kwenye friza.",
        "told": "{carrier}. Katoni {cartons}, {mass} kg, kwa {buyer}.",
    },
}


def words_of(language):
    return WORDS.get(language, WORDS["en"])

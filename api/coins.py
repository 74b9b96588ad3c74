"""What people write for a coin where it is at home, in whatever language they write.

Source: CLDR, the symbol of the currency in a language of its country (`tests/api/test_coins.py` reads it
anew). The screens have the same table (`frontend/src/format.js`).
"""

COINS = {
    "ZMW": "K",
    "MGA": "Ar",
    "TZS": "TSh",
    "KES": "Ksh",
    "UGX": "USh",
    "RWF": "RF",
    "BIF": "FBu",
    "CDF": "FC",
    "MWK": "MK",
    "MZN": "MTn",
    "KMF": "CF",
    "XOF": "F\u202fCFA",
    "XAF": "FCFA",
    "USD": "$",
    "EUR": "€",
}


def symbol_of(currency):
    """Its symbol, or its ISO 4217 code where people of another place would not know one."""
    return COINS.get(currency, currency)

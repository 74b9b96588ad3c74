"""Texts of failures that no look at the source finds, by the reason why."""

BY_HAND = {
    "only joins others: `refused` of api/question.py and api/csv_rows.py": ["{0}: {1}."],
    "of a file that is left out, for the rest of it is read by whoever keeps the server": [
        "take everything out"
    ],
    "of the framework: what no view of ours sees": [
        'Method "{0}" not allowed.',
        'Unsupported media type "{0}" in request.',
        "Malformed request.",
        "Authentication credentials were not provided.",
    ],
    "of Django, on a column: `checked` of coop/services/writing.py": [
        "Ensure this value is greater than or equal to {0}.",
        "Ensure this value is less than or equal to {0}.",
        "Ensure this value has at most {0} characters (it has {1}).",
        "Enter a valid value.",
        "Enter a valid “slug” consisting of letters, numbers, underscores or hyphens.",
        "This field cannot be blank.",
        "This field cannot be null.",
        "Value {0} is not a valid choice.",
        "{0} with this {1} already exists.",
        "Constraint “{0}” is violated.",
    ],
    "of Django, on a password": [
        "This password is too short. It must contain at least {0} characters.",
        "The password is too similar to the {0}.",
        "This password is too common.",
    ],
    "of Django, on a filter that is too long": [
        "Ensure this value has at most {0} characters (it has {1})",
    ],
    "states, by their labels and their codes: a refusal says `is {state}`": [
        *("open", "closed", "departed", "handed over", "handed_over", "settled", "called off", "called_off"),
        *("accepted", "declined", "revoked", "expired"),
    ],
    "the same, where a sentence needs them": [
        *("is open", "is departed", "is handed over", "is settled", "is called off"),
        *("is accepted", "is declined", "is revoked", "is expired"),
    ],
    "lines of an account that are not taken back, by their labels": ["share of a bill", "correction"],
    "rows by what Django calls them: a refusal says `There is no such {row}.`": [
        *("lot", "member", "buyer", "route", "carrier", "material", "timetable", "tariff", "terms", "charge"),
        *("carton design", "price of fish", "price of a material", "limit of a buyer", "phone", "parcel"),
    ],
}

"""Curves of one carton, half hour by half hour, from closing on."""

from rest_framework import serializers

from api.rounding import down, nearest, up

CELSIUS, SHARE = 2, 4


def numbers(help_text="", **options):
    """A list with a number or null for each of the hours."""
    return serializers.ListField(
        child=serializers.FloatField(allow_null=True), help_text=help_text, **options
    )


class WarmingOut(serializers.Serializer):
    core_c = numbers()
    mean_c = numbers()
    warmest_c = numbers("what the warmest part of the fish exceeds")
    softened_share = numbers("rounded up")
    heat_gained_j = numbers()

    example = {
        "core_c": [-18.0, -18.0, -17.99],
        "mean_c": [-18.0, -17.81, -17.59],
        "warmest_c": [-18.0, -15.2, -14.1],
        "softened_share": [0.0, 0.0, 0.0],
        "heat_gained_j": [0.0, 41200.0, 83900.0],
    }


class LimitHoldOut(serializers.Serializer):
    kind = serializers.CharField()
    value = serializers.FloatField()
    hold_best_h = serializers.FloatField(allow_null=True, help_text="null: kept for as long as was looked")
    hold_cautious_h = serializers.FloatField(allow_null=True)
    chosen = serializers.BooleanField()

    example = {
        "kind": "softened_share",
        "value": 0.05,
        "hold_best_h": 30.6,
        "hold_cautious_h": 21.0,
        "chosen": True,
    }


class CurveOut(serializers.Serializer):
    hours = serializers.ListField(child=serializers.FloatField(), help_text="since closing")
    best = WarmingOut()
    cautious = WarmingOut()
    air_c = numbers()
    top_c = numbers("air on the lid, with what sun and sky add")
    side_c = numbers()
    bottom_c = numbers()
    night = serializers.ListField(
        child=serializers.ListField(child=serializers.FloatField()), help_text="hours from and until"
    )
    limits = LimitHoldOut(many=True)

    example = {
        "hours": [0.0, 0.5, 1.0],
        "best": WarmingOut.example,
        "cautious": WarmingOut.example,
        "air_c": [30.0, 29.6, 29.1],
        "top_c": [44.2, 41.0, 38.3],
        "side_c": [33.1, 32.2, 31.0],
        "bottom_c": [30.0, 29.6, 29.1],
        "night": [[2.7, 14.1]],
        "limits": [LimitHoldOut.example],
    }


def curve_of(curves):
    """CurveOut of selectors' WarmingCurves, until the last hour at which either carton was followed."""
    followed = max(last_known(curves.best), last_known(curves.cautious)) + 1
    # The weather is given for each half hour that begins; after the last one nothing begins.
    faces = [weather_on(face, followed) for face in (curves.air, *curves.outside.T)]
    return {
        "hours": rounded(curves.hours[:followed], CELSIUS),
        "best": warming_of(curves.best, followed),
        "cautious": warming_of(curves.cautious, followed),
        "air_c": faces[0],
        "top_c": faces[6],
        "side_c": faces[1],
        "bottom_c": faces[5],
        "night": [rounded(span, CELSIUS) for span in curves.nights],
        "limits": [limit_of(one) for one in curves.limits],
    }


def last_known(curves):
    """Number of the last reading that is one."""
    return max(number for number, value in enumerate(curves.core) if value == value)


def weather_on(values, count):
    shown = rounded(values[:count], CELSIUS)
    return shown + shown[-1:] * (count - len(shown))


def warming_of(curves, count):
    return {
        "core_c": rounded(curves.core[:count], CELSIUS),
        "mean_c": rounded(curves.mean[:count], CELSIUS),
        "warmest_c": rounded(curves.warmest[:count], CELSIUS),
        "softened_share": [up(value, SHARE) for value in curves.softened_share[:count]],
        "heat_gained_j": rounded(curves.heat_gained[:count], 0),
    }


def rounded(values, decimals):
    return [nearest(value, decimals) for value in values]


def limit_of(hold):
    return {
        "kind": hold.kind,
        "value": hold.value,
        "hold_best_h": down(hold.best_h, 1),
        "hold_cautious_h": down(hold.cautious_h, 1),
        "chosen": hold.is_chosen,
    }

"""What the phone's own modules say of a departure, beside the full computation."""

import json
import shutil
import subprocess
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from django.conf import settings

from api.reckoning import reckoning_of
from coop.selectors.departure_slots import draws_of, rows_of, slots_of
from coop.selectors.departures import judgement_of, packing_of, plan_of
from coop.selectors.reckoning import key_of, reckoning
from coop.selectors.thermal_runs import hold_tables

SCRIPT = Path(__file__).with_name("reckon.mjs")
MINUTE = 60.0


@dataclass
class Compared:
    """Of n questions: what the phone told (None where it cannot tell) and what the full computation says."""

    told: list
    full: list
    confidence: list

    def answered(self):
        return [
            (told, full) for told, full in zip(self.told, self.full, strict=True) if "outside" not in told
        ]

    def unsafe_called_safe(self):
        return sum(told["safe"] and full.reason is not None for told, full in self.answered())

    def hold_errors(self):
        """Of the cautious hold, relative; to the minute, as both are told."""
        pairs = self.answered()
        told = np.array([told["hold_min"] for told, _ in pairs])
        full = np.array([full.hold_cautious for _, full in pairs]) / MINUTE
        return told / full - 1

    def chance_errors(self):
        return np.array([told["chance_hard"] - full.chance_hard for told, full in self.answered()])

    def latest_errors(self):
        """min, of those that the phone calls safe."""
        pairs = [(told, full) for told, full in self.answered() if told["safe"]]
        return np.array([told["latest_min"] - full.latest_departure / MINUTE for told, full in pairs])

    def softened_errors(self):
        pairs = self.answered()
        return np.array([told["soft"] / 1e4 - full.expected_softened_share for told, full in pairs])


def slots_and_plans(question):
    """Every departure of a question with every design: (question about that design, plan, design)."""
    rows = rows_of(question)
    journeys = {row.pk: draws_of(question, rows, row) for row in rows.timetables}
    for slot in slots_of(question, rows):
        plan = plan_of(question, rows, slot, journeys)
        for design in question.designs:
            yield replace(question, designs=(design,)), plan, design


def compare(question, plan, design, fish, before):
    """Compared over fish of (kg, °C) on one departure; the full computation is made for each."""
    told = phone_says(question, plan, design, fish, before)
    with ThreadPoolExecutor(settings.CORES) as pool:
        full = list(pool.map(lambda one: in_full(question, plan, design, *one), fish))
    return Compared(told, full, [plan.slot.standard.confidence] * len(fish))


def in_full(question, plan, design, mass_kg, start_temperature_c):
    fish = replace(question, mass_kg=mass_kg, start_temperature_c=start_temperature_c)
    _, packed, _ = packing_of(fish, design, plan.slot.standard)
    return judgement_of(plan, hold_tables(packed, plan.outing))


def phone_says(question, plan, design, fish, before):
    """Answers of frontend/src/reckon/ to (kg, °C), from what the server tells a phone."""
    found = reckoning(question, key_of(plan.slot, design))
    asked = {
        "reckonings": [reckoning_of(found, question, before)],
        "questions": [[0, float(mass), float(start)] for mass, start in fish],
    }
    run = subprocess.run(
        [shutil.which("node"), SCRIPT], input=json.dumps(asked), capture_output=True, text=True, check=True
    )
    return json.loads(run.stdout)

"""Makes reference/saddles.csv: random saddles by homogeneous transforms."""

import numpy as np

from tables import cell, write_or_check
from transforms import move, origin_of, turn_z

SEED = 20_260_102
ROWS = 1_000

INPUTS = {  # name: (least, most, decimals)
    "seat_angle_deg": (70, 80, 1),
    "axis_x_at_bb_mm": (-20, 90, 1),
    "extension_mm": (560, 820, 1),
    "offset_mm": (-10, 35, 0),
    "rail_shift_mm": (-25, 25, 1),
    "clamp_to_top_mm": (38, 60, 1),
    "nose_to_reference_mm": (110, 170, 0),
    "nose_above_reference_mm": (-15, 6, 1),
    "tilt_deg": (-8, 4, 1),
}
OUTPUTS = ["clamp_x_mm", "clamp_y_mm", "reference_x_mm", "reference_y_mm", "nose_x_mm", "nose_y_mm", "straight_mm",
           "along_seat_tube_mm"]


def saddle(row):
    axis = move(row["axis_x_at_bb_mm"]) @ turn_z(90 - row["seat_angle_deg"])
    head = axis @ move(-row["offset_mm"], row["extension_mm"])
    clamp = origin_of(head)
    top = move(*clamp) @ turn_z(row["tilt_deg"]) @ move(row["rail_shift_mm"], row["clamp_to_top_mm"])
    nose = top @ move(row["nose_to_reference_mm"], row["nose_above_reference_mm"])
    reference = origin_of(top)
    # Height along the seat tube: the reference point seen in the seat tube's own frame.
    seen = np.linalg.inv(axis) @ np.append(reference, 1.0)
    return [*clamp[:2], *reference[:2], *origin_of(nose)[:2], np.linalg.norm(reference), seen[1]]


def main():
    random = np.random.default_rng(SEED)
    rows = []
    for _ in range(ROWS):
        row = {name: round(random.uniform(least, most), decimals) for name, (least, most, decimals) in INPUTS.items()}
        for name in ("axis_x_at_bb_mm", "tilt_deg"):
            if random.random() < 0.3:
                row[name] = 0.0
        inputs = [cell(row[name], decimals) for name, (_, _, decimals) in INPUTS.items()]
        rows.append([*inputs, *(cell(value, 8) for value in saddle(row))])
    write_or_check("saddles.csv", [*INPUTS, *OUTPUTS], rows, tolerance=2e-8)


if __name__ == "__main__":
    main()

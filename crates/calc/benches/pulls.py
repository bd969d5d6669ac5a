"""The work of pulls.rs with common libraries, written the straightforward way.

    python crates/calc/benches/pulls.py FOLDER [COUNT]

FOLDER is where `cargo bench -p calc --bench pulls` left its files; COUNT says how many of them to read. Needs numpy, scipy,
pandas and ruptures. Two processes, as pulls.rs has two threads.
"""

import sys
import time
from multiprocessing import Pool
from pathlib import Path

import numpy as np
import pandas as pd
import ruptures
from scipy import integrate, signal

PLACES = 80


def reading(path):
    table = pd.read_csv(path)
    clock, stroke, force = (table[name].to_numpy() for name in table.columns)
    # Zero and drift: the straight line through the rests before and after.
    top = int(np.argmax(force))
    home = stroke[:64].mean()
    stroke = stroke - home
    begin = int(np.flatnonzero(np.abs(stroke[:top]) < 0.06)[-1])
    back = int(np.flatnonzero(np.abs(stroke) > 0.12)[-1]) + 1
    first, last = force[:begin].mean(), force[back:].mean()
    force = force - np.interp(np.arange(len(force)), [begin / 2, (back + len(force)) / 2], [first, last])
    # Filter, peak, end of the pull.
    rate = (len(clock) - 1) / (clock[-1] - clock[0])
    b, a = signal.butter(2, 2 * 110 / rate)
    filtered = signal.filtfilt(b, a, force)
    peak = filtered.max()
    end = int(np.flatnonzero(filtered > 0.5 * peak)[-1])
    # Slips: falls of a short mean that come back.
    w = 40
    sums = np.concatenate([[0.0], np.cumsum(force[begin:end])])
    means = (sums[w:] - sums[:-w]) / w
    falls = means[: -w - 10] - means[w + 10 :]
    slips, _ = signal.find_peaks(falls, height=0.05 * peak, distance=2 * w)
    # Phases: changes of the straight line in the loading curve, in bins of stroke.
    count = int(np.clip(stroke[end] / 0.08, 40, 220))
    edges = np.linspace(0, stroke[end], count + 1)
    slot = np.clip(np.digitize(stroke[begin:end], edges) - 1, 0, count - 1)
    held = np.maximum(np.bincount(slot, minlength=count), 1)
    curve = np.bincount(slot, force[begin:end], minlength=count) / held
    place = (edges[1:] + edges[:-1]) / 2
    signal_of_line = np.column_stack([curve, place, np.ones(count)])
    bends = ruptures.Dynp(model="linear", min_size=2, jump=1).fit(signal_of_line).predict(n_bkps=4)
    ends = edges[bends]
    # Features.
    energy = integrate.trapezoid(force[begin:end], stroke[begin:end])
    parts = [(0, bends[0]), *zip(bends, bends[1:])]
    slopes = [np.polyfit(place[i:j], curve[i:j], 1)[0] for i, j in parts]
    at = ends[0] + (stroke[end] - ends[0]) * (np.arange(PLACES) + 0.5) / PLACES
    return {
        "break": force[end - 30 : end - 8].mean(),
        "energy": energy,
        "slips": len(slips),
        "stiffness": slopes[1],
        "course": np.append(np.interp(at, place, curve), stroke[end] - ends[0]),
    }


def judged(work):
    path, mean, spread, k = work
    found = reading(path)
    deviation = (np.abs(found["course"] - mean) / spread).max()
    return deviation <= k and 22 <= found["break"] <= 26 and found["slips"] == 0


def main():
    folder = Path(sys.argv[1])
    paths = sorted(folder.glob("*.csv"))
    if len(sys.argv) > 2:
        paths = paths[: int(sys.argv[2])]
    good = [path for i, path in enumerate(sorted(folder.glob("*.csv"))) if i % 5][:30]
    courses = np.array([reading(path)["course"] for path in good])
    mean, spread = courses.mean(axis=0), np.hypot(courses.std(axis=0, ddof=1), 0.005 * 24)
    k = (np.abs(courses - mean) / spread).max()
    with Pool(2) as pool:
        begin = time.perf_counter()
        counts = pool.map(judged, [(path, mean, spread, k) for path in paths], chunksize=8)
        took = time.perf_counter() - begin
    print(f"{len(paths)} pulls: {took:.3f} s in 2 processes, {1000 * took / len(paths):.1f} ms a pull; accepted {sum(counts)}")


if __name__ == "__main__":
    main()

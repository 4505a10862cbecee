#!/usr/bin/env python3
"""Recordings of invented milling cuts with known truth, to try `standfast explain --sound` on.

Shares no code with the program. Cuts are followed in time: one to three modes, the wall as the
memory of the cut (regeneration, teeth that leave it), helix as slices, runout, one to eight teeth.
The truth is that of the motion itself: what repeats every tooth is steady, every second tooth and
not every tooth doubled, nothing chatter; a cut with runout must repeat every turn and is named as
the same cut without it is. On-the-edge cuts are left out. Then comes the microphone: modes that
radiate unequally, a room, coolant, the telephone's band, a voice, hum, pump, a display that is off.

    milling_recordings.py --out DIR [--count 300] [--seed 1] [--ranges tuning|other]

writes DIR/NNN.wav and DIR/truth.csv (file, displayed rpm, true rpm, teeth, truth, line, how spoilt).
Needs numpy, scipy and numba (Debian: python3-scipy, python3-numba).
"""
import argparse
import csv
import os

import numpy as np
from numba import njit
from scipy import signal
from scipy.io import wavfile

STEPS_A_SECOND = 40_000
SLICES = 3
SETTLE = 0.7  # s

# Low and high of what is drawn; "log" where the ends differ much.
RANGES = {
    "tuning": dict(rpm=(2000, 14000), hertz=(250, 3000), damping=(0.008, 0.04),
                   stiffness=(1.5e6, 2e7), immersion=(0.03, 1.1), depth=(1e-4, 6e-3),
                   feed=(3e-5, 1e-4), diameter=(0.008, 0.02), helix=(0, 45), runout=0.35,
                   kt=(5e8, 2.2e9), room=(0.15, 1.0), coolant=(-10, 30), seconds=(1.5, 4.5),
                   radiate=(0.1, 1)),
    "other": dict(rpm=(1200, 20000), hertz=(120, 4200), damping=(0.005, 0.06),
                  stiffness=(5e5, 4e7), immersion=(0.02, 1.3), depth=(5e-5, 1e-2),
                  feed=(2e-5, 1.6e-4), diameter=(0.004, 0.032), helix=(0, 50), runout=0.6,
                  kt=(4e8, 3e9), room=(0.1, 1.6), coolant=(-10, 20), seconds=(1.2, 6),
                  radiate=(0.05, 1)),
}


def log_uniform(rng, low, high):
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


def any_cut(rng, ranges, doubling):
    """A cut drawn at random, or a light radial one of those where periods double."""
    cut = dict(teeth=int(rng.choice([1, 2, 3, 4, 5, 6, 8], p=[.05, .2, .2, .25, .12, .12, .06])),
               rpm=rng.uniform(*ranges["rpm"]), diameter=log_uniform(rng, *ranges["diameter"]),
               immersion=min(1.0, log_uniform(rng, *ranges["immersion"])),
               feed=log_uniform(rng, *ranges["feed"]), depth=log_uniform(rng, *ranges["depth"]),
               helix=np.radians(rng.uniform(*ranges["helix"])), up=rng.random() < 0.3,
               kt=log_uniform(rng, *ranges["kt"]))
    cut["kr"] = cut["kt"] * rng.uniform(0.15, 0.5)
    cut["modes"] = []
    for _ in range(rng.integers(1, 4)):
        angle = rng.uniform(0, np.pi)
        cut["modes"].append(dict(hertz=log_uniform(rng, *ranges["hertz"]),
                                 damping=log_uniform(rng, *ranges["damping"]),
                                 stiffness=log_uniform(rng, *ranges["stiffness"]),
                                 ux=np.cos(angle), uy=np.sin(angle),
                                 radiates=log_uniform(rng, *ranges["radiate"])))
    if doubling:
        mode = cut["modes"][0]
        mode.update(ux=np.cos(rng.normal(0, .2)), damping=rng.uniform(0.006, 0.015),
                    stiffness=log_uniform(rng, 1e6, 4e6), hertz=log_uniform(rng, 300, 1600))
        mode["uy"] = np.sqrt(1 - mode["ux"] ** 2)
        cut["modes"] = [mode]
        cut["immersion"] = rng.uniform(0.03, 0.1)
        cut["helix"] = rng.uniform(0, 0.6)
        cut["depth"] = log_uniform(rng, 1e-3, 6e-3)
        rpm = 60 / cut["teeth"] * mode["hertz"] / (rng.integers(0, 5) + .5) * rng.uniform(.91, 1)
        if ranges["rpm"][0] < rpm < ranges["rpm"][1]:
            cut["rpm"] = rpm
    cut["runout"] = np.zeros(cut["teeth"])
    return cut


def exact_step(mode, dt):
    """Free motion over a step, and what a force held through it adds (state: q, dq/dt)."""
    w = 2 * np.pi * mode["hertz"]
    d = mode["damping"] * w
    wd = w * np.sqrt(1 - mode["damping"] ** 2)
    e, c, s = np.exp(-d * dt), np.cos(wd * dt), np.sin(wd * dt)
    a11, a12 = e * (c + d / wd * s), e * s / wd
    a21, a22 = -w * a12 * w, e * (c - d / wd * s)
    return (a11, a12, a21, a22, (1 - a11) / mode["stiffness"], -a21 / mode["stiffness"],
            mode["ux"], mode["uy"])


@njit(cache=True)
def march(steps, first, pitch, sine, cosine, inside, lag, runout, feed, kt, kr, rows):
    """x, y and modal velocities from step `first` on."""
    turn, teeth, modes = sine.size, runout.size, rows.shape[0]
    wall = np.zeros((lag.size, turn))
    q, v = np.zeros(modes), np.zeros(modes)
    xs, ys = np.zeros(steps - first), np.zeros(steps - first)
    vs = np.zeros((steps - first, modes), np.float32)
    x = y = 0.0
    for i in range(steps):
        along = across = 0.0
        for k in range(lag.size):
            for j in range(teeth):
                at = (i + j * pitch - lag[k]) % turn
                if not inside[at]:
                    continue
                edge = x * sine[at] + y * cosine[at] + runout[j]
                left = wall[k, at] - feed * sine[at]
                if edge > left:
                    along += (edge - left) * sine[at]
                    across += (edge - left) * cosine[at]
                    left = edge
                wall[k, at] = left
        fx, fy = -kt * across - kr * along, kt * along - kr * across
        x = y = 0.0
        for m in range(modes):
            r = rows[m]
            f = r[6] * fx + r[7] * fy
            q[m], v[m] = r[0] * q[m] + r[1] * v[m] + r[4] * f, r[2] * q[m] + r[3] * v[m] + r[5] * f
            x += r[6] * q[m]
            y += r[7] * q[m]
        if not abs(x) + abs(y) < 1e-2:
            return xs[:0], ys[:0], vs[:0]
        if i >= first:
            xs[i - first], ys[i - first] = x, y
            for m in range(modes):
                vs[i - first, m] = v[m]
    return xs, ys, vs


def follow(cut, seconds):
    """Motion of a cut: x, y, modal velocities, steps a second and a tooth; None where it bursts."""
    teeth = cut["teeth"]
    pitch = max(24, int(np.ceil(60 / cut["rpm"] / teeth * STEPS_A_SECOND)))
    turn = pitch * teeth
    dt = 60 / cut["rpm"] / turn
    phi = 2 * np.pi * np.arange(turn) / turn
    arc = np.arccos(1 - 2 * cut["immersion"])
    inside = phi <= arc if cut["up"] else (phi >= np.pi - arc) & (phi <= np.pi)
    depth = cut["depth"] / SLICES
    twist = depth * 2 * np.tan(cut["helix"]) / cut["diameter"] / (2 * np.pi) * turn
    lag = np.round((np.arange(SLICES) + .5) * twist).astype(np.int64)
    rows = np.array([exact_step(mode, dt) for mode in cut["modes"]])
    first, steps = int(SETTLE / dt), int((SETTLE + seconds) / dt)
    xs, ys, vs = march(steps, first, pitch, np.sin(phi), np.cos(phi), inside, lag, cut["runout"],
                       cut["feed"], cut["kt"] * depth, cut["kr"] * depth, rows)
    return dict(x=xs, y=ys, v=vs, rate=1 / dt, pitch=pitch) if xs.size else None


def unlike(motion, steps):
    """How unlike the second half is after so many steps, over its own size."""
    half = len(motion["x"]) // 2
    change = size = 0.0
    for name in ("x", "y"):
        z = motion[name][half:].astype(float)
        change += np.mean((z[steps:] - z[:-steps]) ** 2)
        size += np.var(z)
    return np.sqrt(change / max(size, 1e-300))


def truth_of(motion):
    once, twice = unlike(motion, motion["pitch"]), unlike(motion, 2 * motion["pitch"])
    if once < 1e-3:
        return "steady"
    if once > 0.05 and twice < 0.02 * once:
        return "doubled"
    if once > 0.1 and twice > 0.2 * once:
        return "chatter"
    return "edge"


def chatter_line(motion, radiated, teeth, truth):
    """Strongest line off the spindle's multiples (chatter), or midway (doubled), Hz."""
    spindle = motion["rate"] / motion["pitch"] / teeth
    f, p = signal.periodogram(radiated, motion["rate"], "blackman")
    orders = f / spindle
    if truth == "chatter":
        p = np.where(np.abs(orders - np.round(orders)) * spindle < 4 * f[1], 0, p)
    else:
        halves = f / (spindle * teeth) - .5
        p = np.where(np.abs(halves - np.round(halves)) * spindle * teeth < 3 * f[1], p, 0)
    return f[np.argmax(p)]


def chosen(rng, ranges, count):
    """Cuts of which nearly half are steady, nearly half chatter, one in eight doubled."""
    wanted = {"steady": round(.47 * count), "chatter": round(.41 * count)}
    wanted["doubled"] = count - sum(wanted.values())
    cuts = []
    while any(wanted.values()):
        cut = any_cut(rng, ranges, doubling=not wanted["chatter"] or rng.random() < .2)
        motion = follow(cut, 0.5)
        truth = truth_of(motion) if motion else "edge"
        if truth == "edge" or not wanted[truth]:
            continue
        if not max(np.abs(motion["x"]).max(), np.abs(motion["y"]).max()) < 3 * cut["feed"] + 2e-5:
            continue
        wanted[truth] -= 1
        cut["alone"], cut["once"] = truth, unlike(motion, motion["pitch"])
        if rng.random() < .7:
            cut["runout"] = rng.uniform(-1, 1, cut["teeth"]) * ranges["runout"] * cut["feed"] \
                * (.4 if truth == "doubled" else 1)
        cuts.append(cut)
    return cuts


def truth_with_runout(cut, motion):
    """As without it, where runout has not turned one kind of motion into another."""
    alone, teeth, pitch = cut["alone"], cut["teeth"], motion["pitch"]
    if not np.any(cut["runout"]):
        return alone if truth_of(motion) == alone else "edge"
    turn, turns = unlike(motion, teeth * pitch), unlike(motion, 2 * teeth * pitch)
    if alone == "chatter":
        return "chatter" if turn > .1 and turns > .1 else "edge"
    if alone == "steady":
        return "steady" if turn < 2e-3 else "edge"
    if teeth % 2 == 1:
        return "doubled" if turn > .05 and turns < 2e-3 else "edge"
    still = unlike(motion, pitch) > .5 * cut["once"]
    return "doubled" if turn < 2e-3 and still else "edge"


def level(x):
    return np.sqrt(np.mean(x ** 2)) + 1e-300


def room(rng, x, rate, ranges):
    """Direct sound and a tail of noise that decays by 60 dB."""
    decay = rng.uniform(*ranges["room"])
    t = np.arange(int(decay * rate)) / rate
    tail = rng.normal(size=t.size) * 10 ** (-3 * t / decay)
    tail *= 10 ** (rng.uniform(-12, 3) / 20) / np.sqrt(np.sum(tail ** 2))
    return x + signal.fftconvolve(x, tail)[: x.size]


def coolant(rng, count, rate):
    """Broad noise, rising or falling, with a wide hump and slow swells."""
    x = rng.normal(size=count)
    x = signal.lfilter([1], [1, -rng.uniform(-.2, .9)], x)
    hump = rng.uniform(800, min(6000, .4 * rate))
    b, a = signal.iirpeak(hump, max(rng.uniform(.7, 2), hump / (.3 * rate)), fs=rate)
    x = x + rng.uniform(0, 2) * signal.lfilter(b, a, x)
    swell = np.interp(np.arange(count), np.linspace(0, count, 8), rng.uniform(.8, 1.2, 8))
    return x * swell


def voice(rng, count, rate):
    """Syllables: a buzz of gliding pitch through three formants."""
    out = np.zeros(count)
    at = 0
    while at < count:
        n = int(rng.uniform(.12, .35) * rate)
        t = np.arange(n) / rate
        pitch = rng.uniform(95, 230) * (1 + rng.uniform(-.15, .15) * t / t[-1])
        phase = np.cumsum(pitch) / rate
        buzz = np.diff(np.floor(phase), prepend=0)
        for formant in (rng.uniform(300, 800), rng.uniform(900, 2200), rng.uniform(2300, 3200)):
            if formant < .45 * rate:
                b, a = signal.iirpeak(formant, 7, fs=rate)
                buzz = buzz + 3 * signal.lfilter(b, a, buzz)
        buzz *= np.hanning(n)
        m = min(n, count - at)
        out[at: at + m] += buzz[:m]
        at += n + int(rng.uniform(.02, .25) * rate)
    return out


def recorded(rng, cut, motion, ranges):
    """What stands on the recorder: samples, rate, words on how it was spoilt."""
    how = []
    weights = np.array([m["radiates"] * (m["ux"] + m["uy"]) for m in cut["modes"]])
    radiated = motion["v"][:, : weights.size] @ weights
    rate = int(rng.choice([8000, 16000, 22050, 44100, 48000]))
    seconds = rng.uniform(ranges["seconds"][0], min(ranges["seconds"][1],
                                                    radiated.size / motion["rate"]))
    wander = 1 + 2e-4 * rng.random() * np.sin(2 * np.pi * rng.uniform(.1, .5) *
                                              np.arange(int(seconds * rate)) / rate)
    low = signal.sosfiltfilt(signal.butter(8, min(.44 * rate, .45 * motion["rate"]),
                                           fs=motion["rate"], output="sos"), radiated)
    at = np.cumsum(wander) / rate * motion["rate"]
    x = np.interp(at[at < low.size - 1], np.arange(low.size), low)
    x = room(rng, x / level(x), rate, ranges)
    x /= level(x)
    n = x.size
    decibels = rng.uniform(*ranges["coolant"])
    noise = coolant(rng, n, rate)
    x = x + 10 ** (-decibels / 20) * noise / level(noise)
    how.append(f"coolant {decibels:.0f} dB")
    t = np.arange(n) / rate
    if rng.random() < .25:
        decibels = rng.uniform(-18, 0)
        words = voice(rng, n, rate)
        x = x + 10 ** (decibels / 20) * words / level(words)
        how.append(f"voice {decibels:.0f}")
    if rng.random() < .5:
        mains = rng.choice([50, 60])
        hum = 10 ** (rng.uniform(-35, -8) / 20)
        for k, share in ((1, .5), (2, 1), (3, .3), (4, .3), (6, .2)):
            x = x + hum * share * np.sqrt(2) * np.sin(2 * np.pi * k * mains * t + k)
        how.append(f"hum {20 * np.log10(hum):.0f}")
    if rng.random() < .25:
        decibels, hertz = rng.uniform(-35, -12), log_uniform(rng, 150, 3000)
        x = x + 10 ** (decibels / 20) * np.sqrt(2) * np.sin(2 * np.pi * hertz * t)
        how.append(f"pump {hertz:.0f} Hz {decibels:.0f}")
    if rng.random() < .25:
        high = min(3400, .45 * rate)
        x = signal.sosfilt(signal.butter(4, [300, high], "bandpass", fs=rate, output="sos"), x)
        how.append("telephone")
    stop = np.abs(x).max()
    if rng.random() < .1:
        stop = 1.5 * level(x)
        how.append("clipped")
    return np.clip(.5 * x / stop, -.5, .5), rate, radiated, how


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("--out", required=True)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--ranges", choices=sorted(RANGES), default="tuning")
    given = parser.parse_args()
    ranges = RANGES[given.ranges]
    rng = np.random.default_rng(given.seed)
    os.makedirs(given.out, exist_ok=True)
    cuts = chosen(rng, ranges, round(1.15 * given.count))
    rng.shuffle(cuts)
    rows = []
    for cut in cuts:
        motion = follow(cut, ranges["seconds"][1])
        truth = truth_with_runout(cut, motion) if motion else "edge"
        if truth == "edge" or len(rows) == given.count:
            continue
        x, rate, radiated, how = recorded(rng, cut, motion, ranges)
        name = f"{len(rows):03d}.wav"
        wavfile.write(os.path.join(given.out, name), rate, np.round(32767 * x).astype(np.int16))
        line = 0 if truth == "steady" else chatter_line(motion, radiated, cut["teeth"], truth)
        rows.append([name, f"{cut['rpm'] * (1 + rng.uniform(-.02, .02)):.1f}", f"{cut['rpm']:.2f}",
                     cut["teeth"], truth, f"{line:.1f}",
                     f"{np.ptp(cut['runout']) / cut['feed']:.2f}", " ".join(how)])
    with open(os.path.join(given.out, "truth.csv"), "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["file", "display_rpm", "rpm", "teeth", "truth", "line_hz",
                         "runout_over_feed", "how"])
        writer.writerows(rows)


if __name__ == "__main__":
    main()

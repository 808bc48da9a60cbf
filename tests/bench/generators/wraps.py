"""What is wound in a layer: bands, inlays, fills, fades, gaps."""
from generators.construct import construct, layer, lines, shade


@construct(50)
def bands(n):
    return layer(lines(n, lambda i: f"band {8 + i % 9} turns of {shade(i)}"))


@construct(100)
def bands_of_one_thread(n):
    return layer(lines(n, lambda i: f"band {8 + i % 9} turns of navy"))


@construct(50)
def bands_of_a_length(n):
    return layer(lines(n, lambda i: f"band {2 + i % 9}.{i % 10} mm of {shade(i)}"))


@construct(50)
def bands_that_were_measured(n):
    return layer(lines(n, lambda i: f"band {8 + i % 9} turns of {shade(i)} measured: {(8 + i % 9) * 0.15:.2f} mm") + "band fill of navy\n",
                 f"length: {n * 4} mm")


@construct(20)
def strands_together(n):
    return layer(lines(n, lambda i: f"band {8 + i % 9} turns of [{shade(i)}, spacer({shade(i + 1)}), {shade(i + 2)}]"), bench="units: mm, hand: 99 m, holders: 3")


@construct(25)
def threads_that_go_on_beside_others(n):
    return layer(lines(n, lambda i: f"band {12 + i % 9} turns of navy\nband 12 turns of [navy, {('mist', 'foam')[i % 2]}]"))


@construct(12)
def inlays_from_a_spool(n):
    return layer(lines(n, lambda i: f"band {100 + i % 9} turns of navy {{ inlay 60 turns of {('mist', 'foam')[i % 2]} at: 1/2 }}"))


@construct(25)
def gaps(n):
    return layer(lines(n, lambda i: f"band {20 + i % 9} turns of navy\ngap {('2 mm', '5 turns of mist')[i % 2]}"))


@construct(30)
def inlays_in_a_band(n):
    return layer(f"band {20 * (n + 1)} turns of navy {{\n" + lines(n, lambda i: f"inlay 2 turns of {('mist', 'foam')[i % 2]} at: {20 * (i + 1)} turns") + "}\n")


@construct(10)
def bands_with_inlays(n):
    return layer(lines(n, lambda i: f"band 60 turns of {('navy', 'slate')[i % 2]} {{ inlay 2 turns of mist at: 1/3  inlay 2 turns of foam at: 2/3 }}"))


@construct(30)
def inlays_every_few_turns(n):
    return layer(f"band {10 * n} turns of navy {{ inlay 1 turn of mist every: 10 turns }}\n")


@construct(20)
def inlays_reckoned(n):
    return layer(f"band {20 * (n + 1)} turns of navy {{ for i in 1 to {n} {{ let w = 2 turns  if i * 20 < {20 * (n + 1)} {{ inlay w of [mist, foam] at: i * 20 turns }} }} }}\n")


@construct(30)
def fills(n):
    return layer(lines(n, lambda i: f"band fill of {shade(i)} weight: {i % 5 + 1}"), f"length: {n * 9} mm")


@construct(30)
def fills_between_bands(n):
    return layer(lines(n, lambda i: f"band fill of {shade(i)}\nband 9 turns of {shade(i + 1)}"), f"length: {n * 9} mm")


@construct(10)
def fills_in_a_repeat(n):
    return layer(f"repeat {n} {{ band fill of navy  band fill of mist weight: 2  band 8 turns of foam }}\n", f"length: {n * 20} mm")


@construct(8)
def fades_by_steps(n):
    return layer("band 20 turns of foam\n" + lines(n, lambda i: f"fade to {shade(i)} steps: 4\nband 20 turns of {shade(i)}"))


@construct(24)
def fades_on_bobbins(n):
    return layer("band 20 turns of foam\n" + lines(n, lambda i: f"fade to {shade(i)} steps: 4\nband 20 turns of {shade(i)}"),
                 bench="units: mm, hand: 90 cm, bobbins: 8")


@construct(8)
def stretches_with_bobbins(n):
    return layer(lines(n, lambda i: f"band 20 turns of foam\nfade to {shade(i)} steps: 4\nband 20 turns of {shade(i)}\ngap 2 mm"),
                 bench="units: mm, hand: 90 cm, bobbins: 2")


@construct(12)
def fades_over_turns(n):
    return layer("band 20 turns of foam\n" + lines(n, lambda i: f"fade to {shade(i)} over: {('24 turns', '4 mm')[i % 2]}\nband 20 turns of {shade(i)}"))


@construct(10)
def fades_by_runs(n):
    return layer("band 20 turns of foam\n" + lines(n, lambda i: f"fade to {shade(i)} runs: [in 1 out 3, in 2 out 2, in 3 out 1]\nband 20 turns of {shade(i)}"))


@construct(8)
def fades_that_all_differ(n):
    return layer("band 20 turns of foam\n" + lines(n, lambda i: f"fade to {shade(i)} runs: [in {1 + i % 5} out {5 - i % 5}, in {1 + i // 5 % 5} out {5 - i // 5 % 5}]\nband 20 turns of {shade(i)}"),
                 bench="units: mm, hand: 99 m, jump: 100, alike: 0")


@construct(60)
def a_fade_of_many_runs(n):
    return layer("band 20 turns of foam\nfade to navy runs: [" + ", ".join(f"in {i % 3 + 1} out {3 - i % 3}" for i in range(n)) + "]\nband 20 turns of navy\n")


@construct(300)
def a_fade_over_many_turns(n):
    return layer(f"band 20 turns of foam\nfade to navy over: {n} turns\nband 20 turns of navy\n")


@construct(12)
def fades_by_eye_that_are_alike(n):
    return layer(lines(n, lambda i: "band 20 turns of foam\nfade to navy steps: 4 by: eye\nband 20 turns of navy"))


@construct(14)
def a_fade_through_many_threads(n):
    return layer(f"fade {n * 60} turns of [{', '.join(shade(i) for i in range(n))}] steps: 4\n")


@construct(5, least=3)
def a_fade_of_a_length_without_bands(n):
    return layer(f"band 20 turns of mist\nfade {n * 9} mm of [{', '.join(shade(i) for i in range(n))}]\n")


@construct(3)
def fades_of_an_extent(n):
    return layer(lines(n, lambda i: "fade 40 mm of [navy, slate, mist] steps: 4\nfade 120 turns of [foam, navy] over: 20 turns"))


@construct(12)
def fades_that_fill(n):
    return layer(f"fade fill of [{', '.join(shade(i) for i in range(n))}] over: 30 turns\n", f"length: {n * 12} mm")


@construct(25)
def bands_seen_through(n):
    """Three layers, the upper two of which show what is under them."""
    def wraps(way):
        return lines(n, lambda i: f"band {8 + (i + way) % 9} turns of {('haze', shade(i))[i % 3 < way]}")
    text = layer(f"under {{\n{wraps(0)}}}\nover {{\n{wraps(1)}}}\nover {{\n{wraps(2)}}}\n")
    return text.replace("bench {", "thread haze { turns: 67 per cm, colour: #dfe9ef, opacity: 40 % }\nbench {", 1)

/* One process that compiles changing texts again and again, as an editor's service does: after the first rounds it
 * holds not a byte more, whatever went wrong in the texts. Prints what it found; exit code 1 if it grew.
 *     growth ROUNDS */
#include <turnlay.h>

#include <malloc.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const shades[] = {"navy", "mist", "nvay", "foam"};

/* Good ones, misspelt ones, some that want a text that is refused, some cut off in the middle. */
static int make_text(char *text, size_t room, unsigned round)
{
    int length =
        snprintf(text, room,
                 "edition 1\n%s"
                 "about { title: \"Round %u\" }\n"
                 "thread navy { turns: %u per cm }\n"
                 "thread mist { turns: 68 per cm, colour: #%06x }\n"
                 "thread foam { size: A }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"Round %u\" on tube {\n"
                 "    at %u mm { band %u turns of %s  fade to mist steps: 3  band 9 mm of mist }\n"
                 "    at 60 cm length: 5 cm { diamond crossings: 3 ends: 12 turns of navy { strand 3 of mist } }\n"
                 "}\n",
                 round % 7 ? "" : "use \"gone\"\n", round, 50 + round % 30, round % 0x1000000u, round,
                 200 + round % 100, 40 + round % 90, shades[round % 4]);
    return round % 11 ? length : length / 2;
}

static size_t compile(unsigned round)
{
    static const char sizes[] = "edition 1\nsize A { diameter: 0.15 mm }\n";
    char text[2000];
    size_t bytes = 0;
    TurnlayText page;
    TurnlayFinding finding;
    TurnlayCompilation *compilation = turnlay_new();
    turnlay_give(compilation, "round.lay", text, (size_t)make_text(text, sizeof text, round));
    for (TurnlayWant want; (want = turnlay_want(compilation)).path;) {
        if (strcmp(want.path, "std/sizes") == 0)
            turnlay_give(compilation, "sizes.lay", sizes, strlen(sizes));
        else
            turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "it is gone");
    }
    turnlay_finish(compilation);
    for (uint32_t i = 0; turnlay_finding(compilation, i, &finding) == TURNLAY_DONE; i++)
        bytes += strlen(finding.message);
    turnlay_write_plan(compilation, TURNLAY_JSON, &page);
    bytes += page.length;
    turnlay_text_free(&page);
    if (round % 10 == 0) {
        turnlay_write_sheet(compilation, TURNLAY_HTML, 1, &page);
        bytes += page.length;
        turnlay_text_free(&page);
        turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, 1, NAN, &page);
        bytes += page.length;
        turnlay_text_free(&page);
    }
    turnlay_free(compilation);
    return bytes;
}

static size_t held(void)
{
    struct mallinfo2 info = mallinfo2();
    return info.uordblks + info.hblkhd;
}

int main(int count, char **words)
{
    unsigned rounds = count > 1 ? (unsigned)strtoul(words[1], NULL, 10) : 10000;
    size_t bytes = 0, before = 0;
    for (unsigned round = 0; round < rounds; round++) {
        if (round == 100)
            before = held();
        bytes += compile(round);
    }
    size_t after = held();
    printf("%u rounds, %zu bytes of pages and messages; %zu bytes held after 100, %zu at the end\n", rounds, bytes,
           before, after);
    return before && after <= before && bytes > 1000u * rounds ? 0 : 1;
}

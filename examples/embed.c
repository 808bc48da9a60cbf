/* Compiles a pattern that the program itself holds, and prints its plan.
 *
 *     cc embed.c $(pkg-config --cflags --static --libs turnlay) -o embed
 *     ./embed
 *
 * A program of your own would take the text from its editor, its web page or a file. */
#include <turnlay.h>

#include <stdio.h>
#include <string.h>

static const char pattern[] = "edition 1\n"
                              "about { title: \"Evening\" }\n"
                              "use \"trims\"\n"
                              "thread navy { turns: 67 per cm, colour: #22346b }\n"
                              "blank inshore { at 0 cm: 14.8 mm  at 60 cm: 11.2 mm  at 213 cm: 2.1 mm }\n"
                              "rod \"Evening\" on inshore {\n"
                              "    at 32 cm { trim(mist)  band 12 mm of navy  trim(mist) }\n"
                              "}\n";

/* What the pattern calls "trims". Where it comes from is for this program to say. */
static const char trims[] = "edition 1\n"
                            "thread mist { turns: 68 per cm, colour: #9db8d6 }\n"
                            "pattern trim(main: thread) { band 9 turns of main }\n";

/* Everything that the pattern uses, and what those texts use in turn. */
static void answer_wants(TurnlayCompilation *compilation)
{
    for (TurnlayWant want; (want = turnlay_want(compilation)).path;) {
        if (strcmp(want.path, "trims") == 0)
            turnlay_give(compilation, "trims.lay", trims, strlen(trims));
        else
            turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "this program has only \"trims\"");
    }
}

/* Findings are there in pieces as well, for programs that show them their own way. */
static void print_findings(TurnlayCompilation *compilation)
{
    TurnlayFinding finding;
    for (uint32_t i = 0; turnlay_finding(compilation, i, &finding) == TURNLAY_DONE; i++)
        fprintf(stderr, "%s, line %u: %s; %s\n", finding.at.file, (unsigned)finding.at.line, finding.message,
                finding.mend);
}

int main(void)
{
    TurnlayCompilation *compilation = turnlay_new();
    TurnlayText page = {NULL, 0};
    turnlay_give(compilation, "evening.lay", pattern, strlen(pattern));
    answer_wants(compilation);
    TurnlayStatus status = turnlay_finish(compilation);
    print_findings(compilation);
    if (status == TURNLAY_DONE)
        status = turnlay_write_plan(compilation, TURNLAY_TEXT, &page);
    if (status == TURNLAY_DONE)
        fwrite(page.bytes, 1, page.length, stdout);
    else
        fprintf(stderr, "%s\n", turnlay_status_words(status));
    turnlay_text_free(&page);
    turnlay_free(compilation);
    return status == TURNLAY_DONE ? 0 : 1;
}

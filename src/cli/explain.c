#include "check/check.h"
#include "cli/output.h"
#include "cli/verbs.h"

#include <ctype.h>
#include <string.h>

static void list_codes(Buffer *out)
{
    for (FindingCode code = 0; code < FINDING_CODE_COUNT; code++)
        buffer_format(out, "%s  %-7s  %s\n", finding_code_text(code), severity_word(finding_severity(code)),
                      finding_title(code));
}

static void explain(Buffer *out, FindingCode code)
{
    const char *page = explanation(code);
    if (page)
        buffer_text(out, page);
    else
        buffer_format(out, "%s: %s (%s)\n", finding_code_text(code), finding_title(code),
                      severity_word(finding_severity(code)));
}

/* Up to five codes at the least typing distance, or a hint at the whole list. */
static void say_unknown(Arena *arena, const char *word)
{
    char *upper = arena_take(arena, strlen(word) + 1);
    for (size_t i = 0; word[i]; i++)
        upper[i] = (char)toupper((unsigned char)word[i]);
    unsigned least = 3, shown = 0;
    for (FindingCode code = 0; code < FINDING_CODE_COUNT; code++) {
        unsigned distance = text_distance(upper, finding_code_text(code), 2);
        least = distance < least ? distance : least;
    }
    Buffer nearest;
    buffer_start(&nearest, arena);
    for (FindingCode code = 0; code < FINDING_CODE_COUNT && least < 3 && shown < 5; code++)
        if (text_distance(upper, finding_code_text(code), 2) == least)
            buffer_format(&nearest, "%s%s", shown++ ? ", " : "; near it: ", finding_code_text(code));
    say("there is no finding %s%.*s; `turnlay explain` lists all", word, (int)nearest.length,
        nearest.length ? nearest.bytes : "");
}

ExitCode run_explain(Arena *arena, const Arguments *arguments)
{
    Buffer out;
    buffer_start(&out, arena);
    if (!arguments->operands.count) {
        list_codes(&out);
    } else {
        FindingCode code = finding_code_of(arguments->operands.items[0]);
        if (code == FINDING_CODE_COUNT) {
            say_unknown(arena, arguments->operands.items[0]);
            return EXIT_WRONG_USE;
        }
        explain(&out, code);
    }
    return output_print(arena, &out);
}

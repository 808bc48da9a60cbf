#include "base/text.h"
#include "cli/output.h"
#include "cli/verbs.h"

#include <ctype.h>
#include <string.h>

static const char *severity_word(TurnlaySeverity severity)
{
    static const char *const words[] = {"note", "warning", "error"};
    return words[severity];
}

static void list_codes(Buffer *out)
{
    TurnlayExplanation each;
    for (uint32_t i = 0; turnlay_explanation(i, &each) == TURNLAY_DONE; i++)
        buffer_format(out, "%s  %-7s  %s\n", each.code, severity_word(each.severity), each.title);
}

/* Up to five codes at the least typing distance, or a hint at the whole list. */
static void say_unknown(Arena *arena, const char *word)
{
    char *upper = arena_take(arena, strlen(word) + 2), *end = upper;
    if (isdigit((unsigned char)*word)) /* the number alone */
        *end++ = 'T';
    for (size_t i = 0; word[i]; i++)
        *end++ = (char)toupper((unsigned char)word[i]);
    *end = 0;
    unsigned least = 3, shown = 0;
    TurnlayExplanation each;
    for (uint32_t i = 0; turnlay_explanation(i, &each) == TURNLAY_DONE; i++) {
        unsigned distance = text_distance(upper, each.code, 2);
        least = distance < least ? distance : least;
    }
    Buffer nearest;
    buffer_start(&nearest, arena);
    for (uint32_t i = 0; least < 3 && shown < 5 && turnlay_explanation(i, &each) == TURNLAY_DONE; i++)
        if (text_distance(upper, each.code, 2) == least)
            buffer_format(&nearest, "%s%s", shown++ ? ", " : "; near it: ", each.code);
    say("there is no finding %s%.*s; `turnlay explain` lists all", word, (int)nearest.length,
        nearest.length ? nearest.bytes : "");
}

ExitCode run_explain(Arena *arena, const Arguments *arguments)
{
    Buffer out;
    buffer_start(&out, arena);
    TurnlayExplanation explanation;
    if (!arguments->operands.count) {
        list_codes(&out);
    } else if (turnlay_explain(arguments->operands.items[0], &explanation) == TURNLAY_DONE) {
        buffer_text(&out, explanation.page);
    } else {
        say_unknown(arena, arguments->operands.items[0]);
        return EXIT_WRONG_USE;
    }
    return output_print(arena, &out);
}

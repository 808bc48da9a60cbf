#include "meaning/mend.h"

#include <ctype.h>
#include <string.h>

const char *written(Arena *arena, const Sources *sources, Span span)
{
    return text_format(arena, "%.*s", (int)(span.end - span.start),
                       sources->list.items[span.file].bytes + span.start);
}

Span behind(Span span)
{
    span.start = span.end;
    return span;
}

void edit_out(Findings *findings, Finding *finding, const Sources *sources, Span span)
{
    finding_edit(findings, finding, span_to_remove(&sources->list.items[span.file], span), "%s", "");
}

const char *in_small(Arena *arena, const char *word)
{
    char *small = arena_take(arena, strlen(word) + 1);
    for (size_t i = 0; word[i]; i++)
        small[i] = (char)tolower((unsigned char)word[i]);
    return small;
}

const char *nearest_word(Arena *arena, const char *word, const char *const *words)
{
    const char *small = in_small(arena, word);
    const char *nearest = NULL, *beginning = NULL;
    for (unsigned best = 3; *words; words++) {
        unsigned distance = text_distance(small, *words, best - 1);
        if (distance < best && distance * 2 < strlen(small)) {
            best = distance;
            nearest = *words;
        }
        if (strlen(*words) > 1 && strncmp(small, *words, strlen(*words)) == 0)
            beginning = *words;
    }
    return nearest ? nearest : beginning;
}

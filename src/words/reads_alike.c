/* Whether two sentences are the same but for what a row of a table tells. */
#include "words/equal_wraps.h"

#include <stdlib.h>
#include <string.h>

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

/* Letters of any script, and what names hold beside them. */
static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || (unsigned char)c >= 0x80;
}

static bool begins_word(const char *text, const char *at)
{
    return at == text || !(is_letter(at[-1]) || is_digit(at[-1]));
}

/* The text before `at` ends with these words. */
static bool stands_behind(const char *text, const char *at, const char *words)
{
    size_t letters = strlen(words);
    return (size_t)(at - text) >= letters && !memcmp(at - letters, words, letters)
           && begins_word(text, at - letters);
}

static bool counts_turns(const char *text, const char *at)
{
    static const char *const leads[] = {"wind ", "Wind ", "wrap ", "Wrap "};
    for (size_t i = 0; i < sizeof leads / sizeof *leads; i++)
        if (stands_behind(text, at, leads[i]))
            return true;
    return false;
}

static const char width_lead[] = "should be ", guide_lead[] = "this foot of ";

static const char *behind_number(const char *at)
{
    while (is_digit(*at))
        at++;
    return at;
}

/* Behind "12 turns", "1 turn". */
static const char *behind_turns(const char *at)
{
    at = behind_number(at);
    at += strncmp(at, " turn", 5) == 0 ? 5 : 0;
    return at + (*at == 's');
}

/* It ends with the clause. */
static const char *behind_width(const char *at) { return at + strcspn(at, ";"); }

/* Those of the thread whose name stands before the number; NULL for none. */
static const Renamed *renamed_before(const Renaming *renaming, const char *text, const char *at)
{
    for (uint32_t i = 0; i < renaming->count; i++) {
        const Renamed *thread = &renaming->threads[i];
        if (at > text + thread->letters && at[-1] == ' '
            && !memcmp(at - 1 - thread->letters, thread->name, thread->letters)
            && begins_word(text, at - 1 - thread->letters))
            return thread;
    }
    return NULL;
}

static bool is_renamed(const Renamed *thread, const char *there, const char *here)
{
    return strtoul(there, NULL, 10) + thread->here == strtoul(here, NULL, 10) + thread->there;
}

/* How long a word is that changes with the way in which the wrap is worked; 0 for any other, or none. The same
 * number says that two are each other's opposites. */
static int side_at(const char *text, const char *at, size_t *letters)
{
    static const struct {
        const char *word;
        int pair;
    } sides[] = {{"butt", 1}, {"tip", -1}, {"left", 2}, {"right", -2}};
    if (!strchr("btlr", *at) /* as they begin */ || !begins_word(text, at))
        return 0;
    for (size_t i = 0; i < sizeof sides / sizeof *sides; i++) {
        *letters = strlen(sides[i].word);
        if (!strncmp(at, sides[i].word, *letters) && !is_letter(at[*letters]))
            return sides[i].pair;
    }
    return 0;
}

/* Both are at the names of their guides. */
static bool skip_guide(const Renaming *renaming, const char *at[2])
{
    const char *const names[2] = {renaming->guide_there, renaming->guide_here};
    for (int i = 0; i < 2; i++)
        if (!*names[i] || strncmp(at[i], names[i], strlen(names[i])) != 0)
            return false;
    at[0] += strlen(names[0]);
    at[1] += strlen(names[1]);
    return true;
}

/* Takes both on past what stands there: false where it differs. */
static bool step_on(const Renaming *renaming, const char *texts[2], const char *at[2])
{
    /* All that follows is about what begins a word. */
    if (!begins_word(texts[0], at[0]) && !begins_word(texts[1], at[1]))
        return *at[0]++ == *at[1]++;
    size_t letters[2] = {0};
    int sides[2] = {side_at(texts[0], at[0], &letters[0]), side_at(texts[1], at[1], &letters[1])};
    if (sides[0] || sides[1]) {
        at[0] += letters[0];
        at[1] += letters[1];
        return sides[0] == (renaming->other_way ? -sides[1] : sides[1]);
    }
    if (stands_behind(texts[1], at[1], width_lead) && stands_behind(texts[0], at[0], width_lead)) {
        at[0] = behind_width(at[0]);
        at[1] = behind_width(at[1]);
        return true;
    }
    if (stands_behind(texts[1], at[1], guide_lead) && skip_guide(renaming, at))
        return true;
    if (is_digit(*at[0]) && is_digit(*at[1]) && begins_word(texts[1], at[1])) {
        bool turns = counts_turns(texts[0], at[0]) && counts_turns(texts[1], at[1]);
        const Renamed *thread = renamed_before(renaming, texts[1], at[1]);
        bool same = turns || !thread || is_renamed(thread, at[0], at[1]);
        if (turns || thread) {
            at[0] = turns ? behind_turns(at[0]) : behind_number(at[0]);
            at[1] = turns ? behind_turns(at[1]) : behind_number(at[1]);
            return same;
        }
    }
    return *at[0]++ == *at[1]++;
}

bool reads_alike(const Renaming *renaming, const char *there, const char *here)
{
    const char *texts[2] = {there, here}, *at[2] = {there, here};
    while (*at[0] && *at[1])
        if (!step_on(renaming, texts, at))
            return false;
    return !*at[0] && !*at[1];
}

/* Takes the next sentence off, without the blank behind it; NULL after the last. */
static const char *next_sentence(Arena *arena, const char **text)
{
    if (!**text)
        return NULL;
    const char *end = strstr(*text, ". ");
    size_t letters = end ? (size_t)(end - *text) + 1 : strlen(*text);
    const char *sentence = text_format(arena, "%.*s", (int)letters, *text);
    *text += letters + (end != NULL);
    return sentence;
}

const char *says_more(Arena *arena, const Renaming *renaming, const char *there, const char *here)
{
    const char *more = "";
    for (const char *own, *left = here; (own = next_sentence(arena, &left));) {
        const char *other = "", *others = there;
        while (other && !reads_alike(renaming, other, own))
            other = next_sentence(arena, &others);
        if (!other)
            more = text_format(arena, "%s%s%s", more, *more ? " " : "", own);
    }
    return more;
}

const char *turns_told(Arena *arena, const char *says)
{
    const char *told = "";
    for (const char *at = says; *at; at++)
        if (is_digit(*at) && counts_turns(says, at))
            told = text_format(arena, "%s%s%.*s", told, *told ? " + " : "", (int)(behind_number(at) - at), at);
    return told;
}

const char *width_told(Arena *arena, const char *says)
{
    const char *found = strstr(says, width_lead);
    if (!found)
        return "";
    found += strlen(width_lead);
    return text_format(arena, "%.*s", (int)(behind_width(found) - found), found);
}

bool renaming_of(Arena *arena, const SheetRod *rod, uint32_t there, uint32_t here, uint32_t count, Renaming *made)
{
    const uint32_t *numbers = rod->bench->piece_numbers;
    made->count = 0;
    for (uint32_t i = 0; i < count; i++) {
        const char *label = rod->labels[here + i];
        if (!label)
            continue;
        size_t letters = (size_t)(strrchr(label, ' ') - label);
        uint32_t known = 0;
        while (known < made->count
               && (made->threads[known].letters != letters || memcmp(made->threads[known].name, label, letters)))
            known++;
        if (known == MOST_RENAMED)
            return false;
        Renamed *thread = &made->threads[known];
        if (known == made->count) {
            made->count++;
            *thread = (Renamed){text_format(arena, "%.*s", (int)letters, label), letters, numbers[there + i],
                                numbers[here + i], 0};
        }
        thread->count++;
    }
    return true;
}

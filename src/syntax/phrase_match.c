/* Finds the phrases of phrase_table.c among the tokens of a text. */
#include "syntax/phrase_part.h"

#include "parser.h"

#include <string.h>

enum {
    BACK = 16, /* tokens before the one that does not fit at which a phrase may begin */
    FAR = 300  /* tokens that an open bracket is looked for */
};

/* The token behind a part of a phrase, "a|b|CLASS", at `at`; NO_MATCH if it does not stand there. */
static uint32_t part_end(Reader *reader, const char *part, size_t length, uint32_t at)
{
    const char *end = part + length;
    for (const char *word = part, *bar; word < end; word = bar + 1) {
        bar = memchr(word + 1, '|', (size_t)(end - word - 1));
        bar = bar ? bar : end;
        size_t word_length = (size_t)(bar - word);
        PartClass class = part_class(word, word_length);
        uint32_t next = class < CLASS_NONE                        ? class_end(reader, class, at)
                        : token_is(reader, at, word, word_length) ? at + 1
                                                                  : NO_MATCH;
        if (next != NO_MATCH)
            return next;
    }
    return NO_MATCH;
}

/* Another statement on a line of its own: no phrase goes on there. */
static bool begins_anew(const Reader *reader, uint32_t at)
{
    const uint8_t *kinds = reader->tokens.kinds;
    return first_on_line(reader, at) && token_policy[kinds[at]] & (BEGINS_STATEMENT | BEGINS_DECLARATION)
           && kinds[at - 1] != LBRACE && kinds[at - 1] != RBRACE;
}

/* Whether the phrase stands at `start`, and takes in the token `least`. */
static bool matches(Reader *reader, const Phrase *phrase, uint32_t start, uint32_t least, PhraseMatch *match)
{
    uint32_t at = start;
    bool ends = false;
    match->count = 0;
    for (const char *part = phrase->written, *end; *part; part = *end ? end + 1 : end) {
        end = part + strcspn(part, " ");
        size_t length = (size_t)(end - part);
        bool optional = length > 1 && part[length - 1] == '?';
        length -= optional;
        uint32_t next = part_end(reader, part, length, at);
        if (next != NO_MATCH && next > at && at > start && begins_anew(reader, at))
            next = NO_MATCH;
        if (next == NO_MATCH && !optional)
            return false;
        next = next == NO_MATCH ? at : next;
        PartClass class = part_class(part, length);
        if (class < CLASS_START || class == CLASS_NONE)
            match->parts[match->count++] = (TokenRange){at, next};
        ends = class == CLASS_NEXT || class == CLASS_EOL;
        at = next;
    }
    match->phrase = phrase;
    match->all = (TokenRange){start, at};
    return at > least || (ends && at == least);
}

/* `edged foot(` */
static bool joins_names(const Phrase *phrase) { return strncmp(phrase->meant, "$1_$", 4) == 0; }

/* The first part that is more than the beginning of a line or statement. */
static const char *first_part(const Phrase *phrase)
{
    const char *first = phrase->written;
    bool only_looks = strncmp(first, "START ", 6) == 0 || strncmp(first, "FIRST ", 6) == 0;
    return only_looks ? first + 6 : first;
}

/* Whether it begins with certain words, not with any name or value. */
static bool begins_with_words(const Phrase *phrase)
{
    const char *first = first_part(phrase);
    PartClass class = part_class(first, strcspn(first, " |?"));
    return class == CLASS_NONE || class == CLASS_MODULE || class == CLASS_CALLED || joins_names(phrase);
}

/* A set of bytes that words begin with; some share a place. */
static uint64_t byte_in_set(char byte) { return (uint64_t)1 << (byte & 63); }

/* With which bytes a token may begin that the first part takes in. */
static uint64_t opening_of(const Phrase *phrase)
{
    const char *first = first_part(phrase), *end = first + strcspn(first, " ");
    uint64_t bytes = 0;
    for (const char *word = first, *bar; word < end; word = bar + 1) {
        bar = memchr(word + 1, '|', (size_t)(end - word - 1));
        bar = bar ? bar : end;
        if (part_class(word, (size_t)(bar - word)) != CLASS_NONE)
            return UINT64_MAX;
        bytes |= byte_in_set(*word);
    }
    return end[-1] == '?' ? UINT64_MAX : bytes;
}

/* Of every phrase, worked out once for a text: nearly all are ruled out by it. */
static const uint64_t *openings_of(Reader *reader)
{
    if (!reader->openings) {
        uint64_t *all = arena_take_many(reader->arena, phrase_count, sizeof *all);
        for (unsigned i = 0; i < phrase_count; i++)
            all[i] = opening_of(&phrases[i]);
        reader->openings = all;
    }
    return reader->openings;
}

char phrase_place(const Reader *reader, uint32_t at)
{
    const uint8_t *kinds = reader->tokens.kinds;
    uint32_t depth = 0;
    for (uint32_t back = 1; back < FAR && back <= at; back++) {
        uint32_t before = at - back;
        if (kinds[before] == LBRACE || kinds[before] == RBRACE)
            break;
        if (kinds[before] == RPAREN || kinds[before] == RBRACKET)
            depth++;
        else if ((kinds[before] == LPAREN || kinds[before] == LBRACKET) && depth)
            depth--;
        else if (kinds[before] == LBRACKET)
            return 'L';
        else if (kinds[before] == LPAREN)
            return !before || kinds[before - 1] != WORD         ? 'G'
                   : before > 1 && kinds[before - 2] == PATTERN ? 'P'
                                                                : 'C';
    }
    static const char places[] = {
        [BRACE_MODULE] = 'T', [BRACE_ROD] = 'R',  [BRACE_SERIES] = 'Q', [BRACE_FIELDS] = 'F',
        [BRACE_BAND] = 'B',   [BRACE_BODY] = 'S', [BRACE_MISSING] = 'S'};
    const OpenBrace *brace = surrounding(reader, at);
    if (!brace)
        return 'T';
    if (brace_holds_swaps(reader, brace))
        return 'W';
    const OpenBrace *around = brace;
    while (around > reader->braces && around->kind == BRACE_BODY)
        around--; /* a loop in a band's braces holds inlays, too */
    return places[around->kind == BRACE_BAND ? BRACE_BAND : brace->kind];
}

/* A series holds rows, as a rod does places, and what is wound there. */
static bool is_for(const char *where, char place)
{
    return !*where || strchr(where, place) || (place == 'Q' && (strchr(where, 'R') || strchr(where, 'S')));
}

bool phrase_match(Reader *reader, uint32_t at, bool words, PhraseMatch *match)
{
    char place = phrase_place(reader, at);
    const uint64_t *openings = openings_of(reader);
    uint64_t begun[BACK + 1], begun_by_any = 0;
    for (uint32_t back = 0; back <= BACK && back <= at; back++)
        begun_by_any |= begun[back] = byte_in_set(reader->source->bytes[reader->tokens.starts[at - back]]);
    for (unsigned i = 0; i < phrase_count; i++) {
        const Phrase *phrase = &phrases[i];
        if (!(openings[i] & begun_by_any) || !is_for(phrase->where, place)
            || (words && !begins_with_words(phrase)))
            continue;
        for (uint32_t back = 0; back <= BACK && back <= at; back++)
            if (openings[i] & begun[back] && matches(reader, phrase, at - back, at, match))
                return true;
    }
    return false;
}

/* What names a text holds, for guesses at what was meant. Only what stands in the text itself is known. */
#include "syntax/known_names.h"

#include "parser.h"
#include "syntax/recovery.h"
#include "syntax/token_words.h"

#include <string.h>

/* Tokens that one question looks through, and that all questions about a text do together: a file of faults alone
 * must not take time that grows with its square. */
enum { LOOKED_THROUGH = 50000, LOOKED_THROUGH_IN_ALL = 20000000 };

/* How many tokens there are to be looked through. */
static uint32_t to_look_through(Reader *reader)
{
    uint32_t count = reader->tokens.count < LOOKED_THROUGH ? reader->tokens.count : LOOKED_THROUGH;
    reader->looked_through += count;
    return reader->looked_through > LOOKED_THROUGH_IN_ALL ? 0 : count;
}

bool is_declared(Reader *reader, uint32_t word)
{
    const uint8_t *kinds = reader->tokens.kinds;
    for (uint32_t at = 0, count = to_look_through(reader); at < count; at++)
        if (token_policy[kinds[at]] & NAMES && same_word(reader, at + 1, word))
            return true;
    return false;
}

bool is_known_name(Reader *reader, const char *name)
{
    char other[LONGEST_NAME];
    const Tokens *tokens = &reader->tokens;
    size_t name_length = strlen(name);
    for (uint32_t at = 0, count = to_look_through(reader); at < count; at++) {
        size_t length;
        const char *word = token_name(reader, at, &length);
        if (tokens->kinds[at] == WORD && length == name_length && memcmp(word, name, length) == 0)
            return true;
        if (!(token_policy[tokens->kinds[at]] & NAMES) || !is_word(reader, at + 1))
            continue;
        uint32_t end = words_end(reader, at + 1);
        TokenRange words = {at + 1, end ? end : at + 2};
        if (joined_name(reader, words, other, sizeof other) && strcmp(other, name) == 0)
            return true;
    }
    return false;
}

bool is_parameter_name(Reader *reader, uint32_t word)
{
    const uint8_t *kinds = reader->tokens.kinds;
    for (uint32_t at = 0, count = to_look_through(reader); at < count; at++)
        if (kinds[at] == LABEL && same_word(reader, at, word))
            return true;
    return false;
}

bool is_list_name(Reader *reader, uint32_t word)
{
    const uint8_t *kinds = reader->tokens.kinds;
    for (uint32_t at = 0, count = to_look_through(reader); at < count; at++) {
        bool named = kinds[at] == WORD && kinds[at + 1] == ASSIGN && kinds[at + 2] == LBRACKET;
        bool parameter = kinds[at] == LABEL && token_is(reader, at + 1, "threads", strlen("threads"));
        if ((named || parameter) && same_word(reader, at, word))
            return true;
    }
    return false;
}

bool is_module_name(Reader *reader, uint32_t word)
{
    const uint8_t *kinds = reader->tokens.kinds;
    for (uint32_t at = 0, count = to_look_through(reader); at < count; at++)
        if (kinds[at] == AS && same_word(reader, at + 1, word))
            return true;
    return false;
}

bool may_be_called(Reader *reader, uint32_t word)
{
    const uint8_t *kinds = reader->tokens.kinds;
    bool uses = false;
    for (uint32_t at = 0, count = to_look_through(reader); at < count; at++) {
        uses |= kinds[at] == USE;
        if (kinds[at] == PATTERN && kinds[at + 2] == LPAREN && same_word(reader, at + 1, word))
            return true;
    }
    return uses && !is_declared(reader, word);
}

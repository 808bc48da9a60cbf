#include "syntax/token_words.h"

#include "parser.h"

#include <ctype.h>
#include <string.h>

static int kind_at(const Reader *reader, uint32_t at) { return reader->tokens.kinds[at]; }

static bool is_label(const Reader *reader, uint32_t at)
{
    return kind_at(reader, at) == LABEL || kind_at(reader, at) == KNOWN_LABEL;
}

const char *token_name(const Reader *reader, uint32_t at, size_t *length)
{
    const char *bytes = reader->source->bytes + reader->tokens.starts[at];
    *length = reader->tokens.ends[at] - reader->tokens.starts[at];
    while (is_label(reader, at) && *length && strchr(": \t", bytes[*length - 1]))
        --*length;
    return bytes;
}

bool token_is(const Reader *reader, uint32_t at, const char *word, size_t length)
{
    bool option = length > 1 && word[length - 1] == ':';
    size_t written_length;
    const char *written = token_name(reader, at, &written_length);
    return kind_at(reader, at) != END && is_label(reader, at) == option && written_length == length - option
           && memcmp(written, word, written_length) == 0;
}

bool is_word(const Reader *reader, uint32_t at)
{
    int kind = kind_at(reader, at);
    return kind == WORD
           || (!is_label(reader, at) && kind != END
               && isalpha((unsigned char)reader->source->bytes[reader->tokens.starts[at]]));
}

bool same_word(const Reader *reader, uint32_t one, uint32_t other)
{
    size_t one_length, other_length;
    const char *one_text = token_name(reader, one, &one_length),
               *other_text = token_name(reader, other, &other_length);
    return one_length == other_length && memcmp(one_text, other_text, one_length) == 0;
}

size_t joined_name(const Reader *reader, TokenRange words, char *name, size_t room)
{
    size_t length = 0;
    for (uint32_t at = words.first; at < words.end; at++) {
        size_t part_length;
        const char *part = token_name(reader, at, &part_length);
        if (kind_at(reader, at) == MINUS)
            continue;
        if (length + part_length + 2 > room)
            return 0;
        if (length)
            name[length++] = '_';
        memcpy(name + length, part, part_length);
        length += part_length;
    }
    name[length] = 0;
    return length;
}

uint32_t words_end(const Reader *reader, uint32_t at)
{
    if (!is_word(reader, at) || first_on_line(reader, at))
        return 0;
    uint32_t end = at + 1;
    for (;;) {
        uint32_t next = end + (kind_at(reader, end) == MINUS);
        bool count = kind_at(reader, next) == NUMBER && (reader->tokens.details[next] & TOKEN_UNIT) == UNIT_NONE;
        if (first_on_line(reader, next) || !(is_word(reader, next) || count))
            break;
        end = next + 1;
    }
    return end > at + 1 ? end : 0;
}

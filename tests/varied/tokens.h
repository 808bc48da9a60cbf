/* A pattern's text, token by token. */
#ifndef TURNLAY_TESTS_VARIED_TOKENS_H
#define TURNLAY_TESTS_VARIED_TOKENS_H

#include <ctype.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

enum { MOST_TOKENS = 6000 };

typedef struct Tokens {
    struct {
        size_t start, end;
    } items[MOST_TOKENS];
    uint32_t count;
} Tokens;

static size_t token_end(const char *text, size_t at)
{
    if (text[at] == '"') {
        size_t end = at + 1 + strcspn(text + at + 1, "\"\n");
        return text[end] == '"' ? end + 1 : end;
    }
    if (strncmp(text + at, "//", 2) == 0)
        return at + strcspn(text + at, "\n");
    if (!isalnum((unsigned char)text[at]) && text[at] != '#' && text[at] != '_')
        return at + 1;
    size_t end = at + 1;
    while (isalnum((unsigned char)text[end]) || text[end] == '_'
           || (text[end] == '.' && isdigit((unsigned char)text[end - 1]) && isdigit((unsigned char)text[end + 1])))
        end++;
    return end;
}

static void find_tokens(const char *text, Tokens *tokens)
{
    tokens->count = 0;
    for (size_t at = 0; text[at] && tokens->count < MOST_TOKENS;) {
        at += strspn(text + at, " \t\r\n");
        if (!text[at])
            break;
        size_t end = token_end(text, at);
        if (text[at] != '/' || text[at + 1] != '/') {
            tokens->items[tokens->count].start = at;
            tokens->items[tokens->count++].end = end;
        }
        at = end;
    }
}

static bool token_is(const char *text, const Tokens *tokens, uint32_t which, const char *word, size_t length)
{
    size_t start = tokens->items[which].start;
    return tokens->items[which].end - start == length && memcmp(text + start, word, length) == 0;
}

#endif

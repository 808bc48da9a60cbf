/* Prints libFuzzer's dictionary: every word of the language, from the tables that the program itself goes by. */
#include "base/units.h"
#include "meaning/option.h"
#include "meaning/resolver.h"
#include "parser.h"
#include "syntax/reader.h"

#include <stdio.h>

static void put(const char *word, const char *behind)
{
    putchar('"');
    for (; *word; word++)
        printf(*word == '"' || *word == '\\' ? "\\%c" : "%c", *word);
    printf("%s\"\n", behind);
}

static void put_options(const OptionRules *options)
{
    for (uint32_t i = 0; options && i < options->count; i++) {
        put(options->rules[i].name, ":");
        for (const char *const *choice = options->rules[i].choices; choice && *choice; choice++)
            put(*choice, "");
    }
}

int main(void)
{
    for (int kind = EDITION; kind <= DIVIDE; kind++)
        if (kind != ROW) /* an `at`, too */
            put(token_spelling(kind), "");
    for (Unit unit = UNIT_MM; unit < UNIT_UNKNOWN; unit++)
        put(unit_spelling(unit), "");
    for (NodeKind kind = 0; kind < NODE_KIND_COUNT; kind++)
        put_options(option_rules(kind));
#define X(name, word, ...)                                                                                        \
    if (*word)                                                                                                    \
        put(word, "");
    TYPE_TABLE(X)
    FUNCTION_TABLE(X)
#undef X
    return 0;
}

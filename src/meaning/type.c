#include "meaning/type.h"

#include <string.h>

static const struct {
    const char *word, *phrase;
} types[] = {
#define X(name, word, phrase) {word, phrase},
    TYPE_TABLE(X)
#undef X
};

const char *type_phrase(unsigned type)
{
    /* Lists of other kinds are "a list". */
    static const char *const lists[TYPE_LIST] = {
        [TYPE_THREAD] = "a list of threads",        [TYPE_LENGTH] = "a list of lengths",
        [TYPE_TURNS] = "a list of turns",           [TYPE_COUNT] = "a list of whole numbers",
        [TYPE_RATIO] = "a list of ratios",          [TYPE_TEXT] = "a list of texts",
        [TYPE_PAIR] = "a list of turns in and out", [TYPE_NOTHING] = "an empty list",
        [TYPE_GUIDE] = "a list of guides",
    };
    if (!type_is_list(type))
        return types[type].phrase;
    const char *phrase = lists[type_element(type)];
    return phrase ? phrase : "a list";
}

const char *type_set_phrase(Arena *arena, TypeSet set)
{
    if (set == ANY_LIST || set == ANY_NUMBER)
        return set == ANY_LIST ? "a list" : "a number";
    const char *text = "";
    for (unsigned type = 0; type < 32; type++) {
        if (!(set & SET(type)))
            continue;
        set &= ~SET(type);
        text = text_format(arena, "%s%s%s", text, *text == '\0' ? "" : set ? ", " : " or ", type_phrase(type));
    }
    return text;
}

/* The lists that a pattern may be given. */
static const char *const list_words[TYPE_LIST] = {
    [TYPE_THREAD] = "threads", [TYPE_LENGTH] = "lengths", [TYPE_GUIDE] = "guides"};

const char *type_word(unsigned type)
{
    if (type_is_list(type))
        return list_words[type_element(type)];
    return *types[type].word ? types[type].word : NULL;
}

unsigned type_of_word(const char *word)
{
    for (unsigned type = 0; type < TYPE_LIST; type++)
        if (list_words[type] && strcmp(word, list_words[type]) == 0)
            return TYPE_LIST + type;
    for (unsigned type = TYPE_COUNT; type < TYPE_COUNT_OF_ELEMENTS; type++)
        if (*types[type].word && strcmp(word, types[type].word) == 0)
            return type;
    return TYPE_BROKEN;
}

bool type_is_number(unsigned type) { return type >= TYPE_COUNT && type <= TYPE_RATE; }

static bool plain(unsigned type) { return type == TYPE_COUNT || type == TYPE_RATIO; }

/* The same kind on both sides; a count beside a ratio is a ratio. */
static unsigned common(unsigned left, unsigned right)
{
    if (left == right)
        return left;
    return plain(left) && plain(right) ? TYPE_RATIO : TYPE_BROKEN;
}

static unsigned product(unsigned left, unsigned right)
{
    if (plain(left) && plain(right))
        return common(left, right);
    if (plain(left))
        return type_is_number(right) ? right : TYPE_BROKEN;
    if (plain(right))
        return type_is_number(left) ? left : TYPE_BROKEN;
    if ((left == TYPE_RATE && right == TYPE_LENGTH) || (left == TYPE_LENGTH && right == TYPE_RATE))
        return TYPE_TURNS;
    return TYPE_BROKEN;
}

static unsigned quotient(unsigned left, unsigned right)
{
    if (!type_is_number(left) || !type_is_number(right))
        return TYPE_BROKEN;
    if (left == right || (plain(left) && plain(right)))
        return TYPE_RATIO;
    if (plain(right))
        return left;
    if (left == TYPE_TURNS && right == TYPE_RATE)
        return TYPE_LENGTH;
    if (left == TYPE_TURNS && right == TYPE_LENGTH)
        return TYPE_RATE;
    return TYPE_BROKEN;
}

unsigned type_of_operation(Operator operator, unsigned left, unsigned right)
{
    switch (operator) {
    case OPERATOR_OR:
    case OPERATOR_AND: return left == TYPE_TRUTH && right == TYPE_TRUTH ? TYPE_TRUTH : TYPE_BROKEN;
    case OPERATOR_EQUAL:
    case OPERATOR_UNEQUAL:
        return common(left, right) != TYPE_BROKEN && !type_is_list(left) ? TYPE_TRUTH : TYPE_BROKEN;
    case OPERATOR_LESS:
    case OPERATOR_LESS_EQUAL:
    case OPERATOR_GREATER:
    case OPERATOR_GREATER_EQUAL:
        return type_is_number(left) && common(left, right) != TYPE_BROKEN ? TYPE_TRUTH : TYPE_BROKEN;
    case OPERATOR_ADD:
    case OPERATOR_SUBTRACT: return type_is_number(left) ? common(left, right) : TYPE_BROKEN;
    case OPERATOR_MULTIPLY: return product(left, right);
    case OPERATOR_DIVIDE: return quotient(left, right);
    default: return TYPE_BROKEN;
    }
}

bool type_fits(unsigned type, TypeSet set)
{
    if (set & SET(type) || (type == TYPE_COUNT && set & SET(TYPE_RATIO)))
        return true;
    return type == TYPE_LIST + TYPE_NOTHING && set >= SET(TYPE_LIST);
}

const char *operator_spelling(Operator operator)
{
    static const char *const spellings[] = {
#define X(name, spelling) spelling,
        OPERATOR_TABLE(X)
#undef X
    };
    return spellings[operator];
}

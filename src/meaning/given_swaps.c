#include "meaning/given_swaps.h"

#include "meaning/likely.h"
#include "meaning/resolver.h"
#include "meaning/swap.h"
#include "trade/colour.h"
#include "trade/colour_names.h"

#include <ctype.h>
#include <stdlib.h>

/* What there is to work with. */
typedef struct Giving {
    Resolver *resolver; /* in the compiled file */
    Evaluator *evaluator;
    GivenSwaps *given;
    Swaps *swaps;
} Giving;

static void fault(Giving *giving, const GivenSwap *swap, const char *words)
{
    if (!giving->given->fault)
        giving->given->fault = text_format(giving->evaluator->arena, "%s=%s: %s", swap->of, swap->with, words);
}

/* `navy` or `shop.navy` as the file would mean it; NULL if it means nothing there. */
static Declaration *declared_as(Giving *giving, const char *words)
{
    Resolver *resolver = giving->resolver;
    const char *dot = strchr(words, '.');
    Node name = {.kind = NODE_NAME, .text = text_of_string(resolver->texts, dot ? dot + 1 : words)};
    Node module = {.kind = NODE_NAME};
    if (dot) {
        module.text = text_of(resolver->texts, words, (size_t)(dot - words));
        name.detail = 1;
        name.first = &module;
    }
    Findings unheard;
    findings_start_unheard(&unheard, resolver->findings);
    return module_find(resolver->module, resolver->sizes, &name, false, &unheard).declaration;
}

static void fault_of_unknown(Giving *giving, const GivenSwap *swap, const char *words, TypeSet set)
{
    const char *dot = strchr(words, '.');
    const char *near = nearest_name(giving->resolver, dot ? dot + 1 : words, NAME_OF_VALUE, set);
    Arena *arena = giving->evaluator->arena;
    fault(giving, swap,
          near ? text_format(arena, "the file knows no %s; did you mean %s?", words, near)
               : text_format(arena, "the file knows no %s", words));
}

/* "a thread"; patterns are told apart from what has a value. */
static const char *phrase_of(const Declaration *declaration)
{
    return declaration->node->kind == NODE_PATTERN ? "a pattern" : type_phrase(declaration->type);
}

/* 0xRRGGBB of "#22346b" and of "Teal"; NO_COLOUR if it is none. */
static uint32_t colour_given(const char *words)
{
    const char *name = colour_of_name(words);
    if (name)
        return colour_named(name);
    if (*words != '#' || strlen(words) != strlen("#rrggbb"))
        return NO_COLOUR;
    for (const char *at = words + 1; *at; at++)
        if (!isxdigit((unsigned char)*at))
            return NO_COLOUR;
    return (uint32_t)strtoul(words + 1, NULL, 16);
}

/* Of a thread its colour alone, and its name says so. */
static Value in_colour(Giving *giving, const GivenSwap *swap, Declaration *of, uint32_t colour)
{
    Evaluator *evaluator = giving->evaluator;
    if (of->type == TYPE_COLOUR)
        return (Value){.type = TYPE_COLOUR, .colour = colour};
    Value value = declared_value(evaluator, of);
    if (value.type != TYPE_THREAD)
        return value;
    const char *name = text_format(evaluator->arena, "%s (%s)", value.thread->name->bytes, swap->with);
    value.thread = recoloured(evaluator, of, value.thread, colour);
    ((Thread *)value.thread)->name = text_of_string(giving->resolver->texts, name);
    return value;
}

/* What the other one stands for; broken where nothing can be said of it. */
static Value value_given(Giving *giving, const GivenSwap *swap, Declaration *of)
{
    Arena *arena = giving->evaluator->arena;
    Declaration *with = declared_as(giving, swap->with);
    if (with && with->node->kind != NODE_PATTERN && type_fits(with->type, SET(of->type)))
        return declared_value(giving->evaluator, with);
    uint32_t colour = colour_given(swap->with);
    if (colour != NO_COLOUR && (of->type == TYPE_THREAD || of->type == TYPE_COLOUR))
        return in_colour(giving, swap, of, colour);
    if (*swap->with == '#' && colour == NO_COLOUR)
        fault(giving, swap, "a colour is written as # and six digits, such as #7a1f5c");
    else if (!with && colour == NO_COLOUR)
        fault_of_unknown(giving, swap, swap->with, SET(of->type));
    else
        fault(giving, swap,
              text_format(arena, "%s is %s, and %s is %s; like is swapped for like", swap->of, phrase_of(of),
                          swap->with, with ? phrase_of(with) : "a colour"));
    return (Value){.type = TYPE_BROKEN};
}

static void take(Giving *giving, const GivenSwap *swap)
{
    Declaration *of = declared_as(giving, swap->of);
    if (!of) {
        fault_of_unknown(giving, swap, swap->of, ~(TypeSet)0);
        return;
    }
    if (of->node->kind == NODE_PATTERN) {
        fault(giving, swap,
              text_format(giving->evaluator->arena, "%s is a pattern, which cannot be swapped", swap->of));
        return;
    }
    Value value = value_given(giving, swap, of);
    if (value.type == TYPE_BROKEN)
        return;
    value.type = (uint8_t)of->type; /* a count serves as a ratio */
    if (!swaps_add(giving->evaluator->arena, giving->swaps, (Swap){.of = of, .value = value, .given = swap}))
        fault(giving, swap, "it is swapped twice; leave one of them out");
}

Swaps *swaps_given(Resolver *resolver, Evaluator *evaluator, GivenSwaps *given)
{
    Giving giving = {resolver, evaluator, given, swaps_new(evaluator->arena, NULL, NULL)};
    for (uint32_t i = 0; i < given->list.count; i++)
        take(&giving, &given->list.items[i]);
    return giving.swaps->list.count ? giving.swaps : NULL;
}

void swaps_given_and_used(Evaluator *evaluator, GivenSwaps *given, const Swaps *swaps)
{
    Giving giving = {.evaluator = evaluator, .given = given};
    for (uint32_t i = 0; swaps && i < swaps->list.count; i++)
        if (!swaps->list.items[i]->met)
            fault(&giving, swaps->list.items[i]->given,
                  text_format(evaluator->arena, "no rod of the file uses %s", swaps->list.items[i]->given->of));
}

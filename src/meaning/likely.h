/* Inside the meaning room: what a builder most likely meant where a value lacks its unit or is of the wrong kind:
 * by what the file itself writes at such spots, and by what is usual there. */
#ifndef TURNLAY_MEANING_LIKELY_H
#define TURNLAY_MEANING_LIKELY_H

#include "meaning/resolver.h"

/* Where a value stands: in which kind of node, and what it is there: an option's name, or one of these. */
#define SPOT_EXTENT "wide"       /* how wide a band, inlay, fade or gap is */
#define SPOT_MARK "mark"         /* of a place or station */
#define SPOT_DIAMETER "diameter" /* of a station */

/* The number with the unit that it most likely lacks, as source text; NULL if the node is no number, or none of
 * the kinds in the set has a unit. A unit that it has is left out, and so is a per cent sign. */
const char *likely_value(Resolver *resolver, const Node *node, TypeSet set, ValueSpot spot);
/* The same, for a length alone. */
const char *likely_length(Resolver *resolver, const Node *node, ValueSpot spot);
/* Whether a length is as long as is usual at the spot; true of everything else. */
bool is_usual(const Node *node, ValueSpot spot);
/* Whether a length is ten times as much as is usual at the spot, or a tenth of it. */
bool is_far_from_usual(const Node *node, ValueSpot spot);
/* Something to begin with at the spot, of one of the kinds in the set: "12 mm"; NULL if nothing is. */
const char *usual_value(Resolver *resolver, TypeSet set, ValueSpot spot);
/* The number without its unit's factor: 50 of `50 %`. */
double plain_number(const Node *node);
/* What a word means as a number: "3" for "three", "1/2" for "middle"; NULL if it means none. */
const char *word_as_number(const char *word);
/* The same as a value of one of the kinds in the set, with the unit that is likely at the spot. */
const char *word_as_value(Resolver *resolver, const char *word, TypeSet set, ValueSpot spot);
/* Whether `fill` may stand at the spot, and whether a word means it ("rest"). */
bool takes_fill(ValueSpot spot);
bool fill_word(const char *word);
/* The name of a colour as it is written, "lightgray" for "Light Gray"; NULL if the word is none. Case, blanks, -
 * and _ do not count. */
const char *colour_of_name(const char *word);
/* The same, or the name that is nearest to the word; NULL if none is near. */
const char *colour_meant(Resolver *resolver, const char *word);

/* Whether the pattern of this parameter winds with it, or winds so much of it, where a value of `type` stands,
 * elsewhere than at `but`. */
bool parameter_used_as(const Resolver *resolver, const Node *parameter, const Node *but, unsigned type);
#endif

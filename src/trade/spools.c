#include "trade/trade.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/* Lengths that differ by less are one: relative to a spool. */
static const double SLACK = 1e-9;
/* Bounds of the search for fewer than first-fit decreasing finds: eight pieces can lie in 4,140 ways, each looked
 * at in far fewer than 480 tries, so that up to there it is exhaustive. */
enum { SEARCHED_PIECES = 64, MOST_TRIES = 2000000 };

static int longest_first(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a < b) - (a > b);
}

/* Spools that a piece can be cut from, in the order in which they are tried: the opened one at hand, the whole
 * ones at hand, those to be bought. */
typedef struct Packing {
    const double *pieces; /* longest first */
    uint32_t count;
    uint32_t at_hand;
    double spool, slack;
    double *room; /* of each spool */
    uint32_t least, best;
    uint32_t tries;
} Packing;

/* Fewer can never do: what has to be bought by length, and by pieces of which no spool holds two. */
static uint32_t least_bought(const Packing *packing, double stock)
{
    double sum = 0;
    uint32_t halves = 0, hosts = 0;
    for (uint32_t i = 0; i < packing->count; i++) {
        sum += packing->pieces[i];
        halves += packing->pieces[i] > packing->spool / 2 + packing->slack;
    }
    for (uint32_t i = 0; i < packing->at_hand; i++)
        hosts += packing->room[i] > packing->spool / 2 + packing->slack;
    double by_length = ceil((sum - stock) / packing->spool - SLACK * (packing->count + 1));
    double by_halves = halves > hosts ? halves - hosts : 0;
    return (uint32_t)fmax(0, fmax(by_length, by_halves));
}

/* First-fit decreasing over a tree whose nodes hold the most room below them. tree: 4 * spools at the most. */
static uint32_t first_fit(const Packing *packing, double *tree)
{
    uint32_t spools = packing->at_hand + packing->count, leaves = 1, bought = 0;
    while (leaves < spools)
        leaves *= 2;
    for (uint32_t i = 0; i < leaves; i++)
        tree[leaves + i] = i < spools ? packing->room[i] : -1;
    for (uint32_t i = leaves; i-- > 1;)
        tree[i] = fmax(tree[2 * i], tree[2 * i + 1]);
    for (uint32_t p = 0; p < packing->count; p++) {
        double needed = packing->pieces[p] - packing->slack;
        uint32_t at = 1;
        while (at < leaves)
            at = 2 * at + (tree[2 * at] < needed);
        tree[at] -= packing->pieces[p];
        uint32_t spool = at - leaves;
        if (spool >= packing->at_hand && spool - packing->at_hand + 1 > bought)
            bought = spool - packing->at_hand + 1;
        for (at /= 2; at; at /= 2)
            tree[at] = fmax(tree[2 * at], tree[2 * at + 1]);
    }
    return bought;
}

/* Tries every spool for the piece, those of one room once; stops where no fewer can be had. */
static void search(Packing *packing, uint32_t piece, uint32_t bought)
{
    if (bought >= packing->best || packing->best == packing->least || packing->tries > MOST_TRIES)
        return;
    if (piece == packing->count) {
        packing->best = bought;
        return;
    }
    double length = packing->pieces[piece];
    uint32_t open = packing->at_hand + bought;
    for (uint32_t i = 0; i <= open; i++) {
        bool seen = false;
        for (uint32_t j = 0; j < i && !seen; j++)
            seen = packing->room[j] == packing->room[i];
        packing->tries += i + 1;
        if (seen || packing->room[i] < length - packing->slack)
            continue;
        double room = packing->room[i];
        packing->room[i] -= length;
        search(packing, piece + 1, bought + (i == open));
        packing->room[i] = room;
    }
}

uint32_t spools_to_buy(double *lengths, uint32_t count, double spool, double stock, double *scratch)
{
    double whole = fmin(floor(stock / spool + SLACK), count), rest = stock - floor(stock / spool + SLACK) * spool;
    qsort(lengths, count, sizeof *lengths, longest_first);
    Packing packing = {.pieces = lengths,
                       .count = count,
                       .at_hand = (uint32_t)whole + 1,
                       .spool = spool,
                       .slack = SLACK * spool,
                       .room = scratch};
    for (uint32_t i = 0; i < packing.at_hand + count; i++)
        packing.room[i] = i ? spool : fmax(0, rest);
    packing.least = least_bought(&packing, stock);
    packing.best = first_fit(&packing, scratch + packing.at_hand + count);
    if (count <= SEARCHED_PIECES)
        search(&packing, 0, 0);
    return packing.best;
}

/* By how much inlays that are not wound move when a width was read (T313): what is said is held against where both
 * plans lay them, as they were planned and as they are planned again. */
#include "base/arena.h"
#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "near.h"
#include "planned.h"

enum { MOST_INLAYS = 64 };

/* Middles of a layer's inlays, mm from its start, in the order of the work. */
typedef struct Middles {
    double at[MOST_INLAYS];
    Span span[MOST_INLAYS];
    double turn[MOST_INLAYS]; /* of the band around it, mm */
    uint32_t item[MOST_INLAYS], count;
    bool made[MOST_INLAYS];
} Middles;

static Middles middles_of(const PlannedLayer *layer)
{
    Middles found = {0};
    for (uint32_t i = 1; i + 1 < layer->run_count; i++) {
        const Run *run = &layer->runs[i];
        /* The rest of one that was read in its midst. */
        bool begun = run[-1].role == RUN_INLAY && run[-1].item == run->item;
        if (run->role != RUN_INLAY || begun)
            continue;
        uint32_t n = found.count++;
        assert_true(n < MOST_INLAYS);
        found.at[n] = fabs((run->start + run->end) / 2 - layer->start);
        found.span[n] = run->span;
        found.item[n] = run->item;
        found.made[n] = run->made;
        found.turn[n] = layer->runs[i + 1].pitch;
    }
    return found;
}

/* How many inlays the item has. */
static uint32_t inlays_of(const Middles *middles, uint32_t item)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < middles->count; i++)
        count += middles->item[i] == item;
    return count;
}

/* The number of the inlay that was this one: the same of as many of its item. */
static bool same_before(const Middles *before, const Middles *now, uint32_t n, uint32_t *same)
{
    uint32_t number = 0;
    for (uint32_t i = 0; i < n; i++)
        number += now->item[i] == now->item[n];
    if (inlays_of(before, now->item[n]) != inlays_of(now, now->item[n]))
        return false;
    for (uint32_t i = 0; i < before->count; i++)
        if (before->item[i] == now->item[n] && number-- == 0) {
            *same = i;
            return true;
        }
    return false;
}

/* Of the findings that tell of an inlay moved: whether one of this span does, and by how much. */
static bool is_told(const Shop *shop, Span span, double *moved)
{
    for (uint32_t i = 0; i < shop->findings.list.count; i++) {
        const Finding *finding = &shop->findings.list.items[i];
        if (finding->code != FINDING_MARK_MOVED || finding->at.span.start != span.start)
            continue;
        const char *by = strstr(finding->message, "this inlay moves by ");
        assert_non_null(by);
        *moved = strtod(by + strlen("this inlay moves by "), NULL);
        bool further = strstr(finding->at.label, "further from the mark") != NULL;
        assert_true(further || strstr(finding->at.label, "nearer to the mark"));
        *moved = further ? *moved : -*moved;
        return true;
    }
    return false;
}

static uint32_t told_in_all(const Shop *shop)
{
    uint32_t told = 0;
    for (uint32_t i = 0; i < shop->findings.list.count; i++)
        told += shop->findings.list.items[i].code == FINDING_MARK_MOVED
                && strstr(shop->findings.list.items[i].message, "inlay");
    return told;
}

/* A band of foam with inlays of mist, some of one and some of many turns, of a thread as wide as the dice have it.
 */
static Item inlaid(Shop *shop, uint64_t *dice, Item item)
{
    Inlay inlays[3];
    uint32_t count = (uint32_t)between(dice, 1, 3.99);
    for (uint32_t i = 0; i < count; i++) {
        inlays[i] = inlay(shop, floor(between(dice, 1, 9)), 2, AT_RATIO, (i + 1.0) / (count + 1));
        if (between(dice, 0, 1) < 0.5)
            inlays[i].extent = (Extent){.kind = EXTENT_LENGTH, .amount = between(dice, 0.3, 1.5)};
    }
    set_inlays(shop, &item, count, inlays);
    item.reversed = between(dice, 0, 1) < 0.3;
    return item;
}

static uint32_t seen, silent;

/* One wrap, read once after some of its turns. */
static void try_wrap(uint64_t *dice)
{
    Shop shop;
    shop_open(&shop);
    shop.job.bench.units = SYSTEM_MM;
    shop.job.bench.varies = 0.05;
    shop.threads[2].pitch = shop.threads[2].diameter = between(dice, 0.1, 0.3);
    for (uint32_t i = 0; i < SHOP_THREADS; i++)
        shop.threads[i].uncertainty = 0.05;
    Place *place = add_place(&shop, 200, between(dice, 0, 1) < 0.5 ? 1 : -1, 40);
    Item first = band(&shop, EXTENT_TURNS, 60, 0), fixed = inlaid(&shop, dice, band(&shop, EXTENT_TURNS, 70, 3));
    Item space = gap(&shop, 1), open = inlaid(&shop, dice, fill(&shop, 1, 0, 3)), last = fill(&shop, 1, 1, 1);
    const Layer *layer = LAYER(&shop, place, true, first, fixed, space, open, last);
    assert_non_null(layer);
    const PlannedLayer *planned = laid(shop_plan(&shop), 0, 0);
    Middles before = middles_of(planned);
    assert_int_equal(told_in_all(&shop), 0);
    uint64_t turn = (uint64_t)between(dice, 30, 150), made = 0;
    double width = 0;
    for (uint32_t i = 0; i < planned->run_count && made < turn; i++) {
        const Run *run = &planned->runs[i];
        uint64_t turns = run->turns < turn - made ? run->turns : turn - made;
        width += run->strands ? (double)turns * run->pitch : fabs(run->end - run->start);
        made += turns;
    }
    MeasuredWidth reading = {.turn = turn, .made = turn, .width = width * between(dice, 0.88, 1.12), .sure = true};
    shop.job.measured = (MeasuredWidths){&reading, 1, 1};
    findings_start(&shop.findings, &shop.arena);
    Middles now = middles_of(laid(shop_plan(&shop), 0, 0));
    uint32_t told = 0;
    for (uint32_t n = 0; n < now.count; n++) {
        uint32_t same = 0;
        double moved = 0, said = 0;
        bool compared = !now.made[n] && same_before(&before, &now, n, &same);
        if (compared)
            moved = now.at[n] - before.at[same];
        bool wanted = compared && fabs(moved) > now.turn[n] + 1e-6;
        assert_int_equal(is_told(&shop, now.span[n], &said), wanted);
        if (wanted)
            assert_within(said, moved, 0.005 + 1e-9);
        told += wanted;
        seen += wanted;
        silent += compared && !wanted;
    }
    assert_int_equal(told_in_all(&shop), told);
    shop_close(&shop);
}

static void inlays_move_by_what_both_plans_say(void **state)
{
    (void)state;
    uint64_t dice = 5;
    for (int i = 0; i < 400; i++)
        try_wrap(&dice);
    print_message("%u inlays moved by more than a turn, %u by less\n", seen, silent);
    assert_true(seen > 300 && silent > 100);
}

/* Where what is to come has no room any more, the wrap stays as it was planned, with its inlays. */
static void inlays_stay_where_nothing_can_be_planned_again(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.job.bench.reading = 0.15;
    Item inlaid = band(&shop, EXTENT_TURNS, 200, 3);
    set_inlays(&shop, &inlaid, 2, (Inlay[]){inlay(&shop, 8, 0, AT_TURNS, 50), inlay(&shop, 4, 2, AT_TURNS, 150)});
    LAYER(&shop, add_place(&shop, 200, 1, 34), true, inlaid, fill(&shop, 1, 0, 1));
    MeasuredWidth reading = {.turn = 40, .made = 40, .width = 40 * 0.18, .sure = true};
    shop.job.measured = (MeasuredWidths){&reading, 1, 1};
    const char *runs = runs_text(&shop, laid(shop_plan(&shop), 0, 0));
    static const char wanted[] = "foam 40, foam 6, navy 8, foam 94, mist 4, foam 48, slate ";
    if (strncmp(runs, wanted, strlen(wanted)) != 0)
        fail_msg("%s", runs);
    shop_close(&shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(inlays_move_by_what_both_plans_say),
                                       cmocka_unit_test(inlays_stay_where_nothing_can_be_planned_again)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}

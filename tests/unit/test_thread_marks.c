/* What tells the threads of a page apart besides their colour, and texts made fit for HTML. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "planned.h"

#include "emit/html_page.h"
#include "trade/colour.h"
#include "words/thread_marks.h"

/* Bands of these threads side by side, in their order. */
static ThreadMarks marks_of(Shop *shop, uint32_t count, const int *threads)
{
    Item items[8];
    for (uint32_t i = 0; i < count; i++)
        items[i] = band(shop, EXTENT_TURNS, 10, threads[i]);
    add_layer(shop, add_place(shop, 100, 1, NAN), true, count, items);
    return thread_marks_make(&shop->arena, shop_plan(shop));
}

static void set_colours(Shop *shop, const uint32_t *colours)
{
    for (int i = 0; i < SHOP_THREADS; i++)
        shop->threads[i].colour = colours[i];
}

static void test_plain_where_nothing_is_mistaken(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    set_colours(&shop, (uint32_t[]){0x22346b, 0x5b7a3a, 0x9db8d6, 0xdfe9ef});
    ThreadMarks marks = marks_of(&shop, 3, (int[]){0, 1, 2});
    assert_int_equal(marks.mistakable.count, 0);
    for (int i = 0; i < 3; i++)
        assert_int_equal(marks.marks[i].pattern, 0);
    assert_null(marks.marks[3].letters); /* not used */
    shop_close(&shop);
}

/* Moss and rust are one colour to an eye without green cones; they get patterns only where they lie side by side.
 */
static void test_patterns_for_neighbours(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    set_colours(&shop, (uint32_t[]){0x5b7a3a, 0xffffff, 0x8f5a35, 0x8a5c36});
    assert_int_equal(marks_of(&shop, 3, (int[]){0, 1, 2}).mistakable.count, 0);
    ThreadMarks marks = marks_of(&shop, 5, (int[]){0, 2, 0, 3, 2});
    assert_int_equal(marks.mistakable.count, 3);
    assert_int_equal(marks.marks[1].pattern, 0);
    assert_int_not_equal(marks.marks[0].pattern, 0);
    for (uint32_t i = 0; i < marks.mistakable.count; i++) {
        assert_true(marks.mistakable.pairs[i].first < marks.mistakable.pairs[i].second);
        assert_int_not_equal(marks.marks[marks.mistakable.pairs[i].first].pattern,
                             marks.marks[marks.mistakable.pairs[i].second].pattern);
    }
    shop_close(&shop);
}

/* Two threads are mistaken where any eye sees them less than 10 apart: greys from far to near, so that some pairs
 * differ by nearly as much. */
static void test_how_like_is_mistakable(void **state)
{
    (void)state;
    double nearest_apart = 100, farthest_mistaken = 0;
    for (uint32_t level = 0x50; level < 0x80; level++) {
        double least = 100;
        for (int vision = 0; vision < VISION_COUNT; vision++)
            least = fmin(least, difference_seen((Vision)vision, 0x505050, level * 0x010101));
        Shop shop;
        shop_open(&shop);
        set_colours(&shop, (uint32_t[]){0x505050, level * 0x010101, 0xffffff, 0xffffff});
        bool mistaken = marks_of(&shop, 2, (int[]){0, 1}).mistakable.count == 1;
        assert_int_equal(mistaken, least < 10);
        if (mistaken)
            farthest_mistaken = fmax(farthest_mistaken, least);
        else
            nearest_apart = fmin(nearest_apart, least);
        shop_close(&shop);
    }
    assert_true(farthest_mistaken > 9.5 && nearest_apart < 10.5);
}

/* White that hides a part over a dark blank looks as grey, which it does not over white. */
static void test_mistakable_where_they_lie(void **state)
{
    (void)state;
    static const struct {
        uint32_t blank;
        double opacity;
        uint32_t below, found;
    } cases[] = {
        {0x000000, 0.5, 0, 1}, {0xffffff, 0.5, 0, 0}, {0x000000, 1, 0, 0},
        {0x000000, 0.5, 3, 0}, {0xffffff, 0.5, 1, 1}, {0x000000, 0, 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Shop shop;
        shop_open(&shop);
        set_colours(&shop, (uint32_t[]){0xffffff, 0xbcbcbc, 0x000000, 0xffffff});
        shop.blank.colour = cases[i].blank;
        shop.threads[0].opacity = cases[i].opacity;
        Item items[] = {band(&shop, EXTENT_TURNS, 10, 0), band(&shop, EXTENT_TURNS, 10, 1)};
        Item ground = band(&shop, EXTENT_TURNS, 20, cases[i].below == 1 ? 2 : 3);
        Place *place = add_place(&shop, 100, 1, NAN);
        if (cases[i].below)
            add_layer(&shop, place, true, 1, &ground);
        add_layer(&shop, place, true, 2, items);
        assert_int_equal(thread_marks_make(&shop.arena, shop_plan(&shop)).mistakable.count, cases[i].found);
        shop_close(&shop);
    }
}

static void test_strands_together_are_neighbours(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    set_colours(&shop, (uint32_t[]){0x5b7a3a, 0x8f5a35, 0, 0});
    Item item = band(&shop, EXTENT_TURNS, 10, 0);
    item.strands = strands(&shop, 2, (int[]){0, 1});
    add_layer(&shop, add_place(&shop, 100, 1, NAN), true, 1, &item);
    assert_int_equal(thread_marks_make(&shop.arena, shop_plan(&shop)).mistakable.count, 1);
    shop_close(&shop);
}

/* As few letters as tell them apart, at most three. */
static void test_letters(void **state)
{
    (void)state;
    static const char *const names[] = {"mist", "moss", "\xd7\xa0\xd7\x99", "mossy"};
    static const char *const wanted[] = {"mi", "mos", "\xd7\xa0", "mos"};
    Shop shop;
    shop_open(&shop);
    for (int i = 0; i < SHOP_THREADS; i++)
        shop.threads[i].name = text_of_string(&shop.texts, names[i]);
    ThreadMarks marks = marks_of(&shop, 4, (int[]){3, 2, 1, 0});
    for (int i = 0; i < SHOP_THREADS; i++)
        assert_string_equal(marks.marks[i].letters, wanted[i]);
    shop_close(&shop);
}

static void test_every_pattern_has_words_and_strokes(void **state)
{
    (void)state;
    for (unsigned i = 0; i < PATTERN_COUNT; i++) {
        assert_true(strlen(pattern_words(i)) > 0);
        assert_int_equal(strlen(pattern_strokes(i)) > 0, i > 0);
        for (unsigned j = 0; j < i; j++) {
            assert_string_not_equal(pattern_words(i), pattern_words(j));
            assert_string_not_equal(pattern_strokes(i), pattern_strokes(j));
        }
    }
}

static void test_html_text(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Buffer out;
    buffer_start(&out, &shop.arena);
    html_text(&out, "<b>\"a\" & 'b'</b> \xe2\x80\xae \xff");
    html_element(&out, "p", "note", "");
    html_element(&out, "p", "note", NULL);
    html_element(&out, "p", "note", "<");
    buffer_put(&out, "", 1);
    assert_string_equal(out.bytes, "&lt;b&gt;&quot;a&quot; &amp; &#39;b&#39;&lt;/b&gt; \xef\xbf\xbd \xef\xbf\xbd"
                                   "<p class=\"note\" dir=\"auto\">&lt;</p>\n");
    shop_close(&shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_plain_where_nothing_is_mistaken),
        cmocka_unit_test(test_patterns_for_neighbours),
        cmocka_unit_test(test_how_like_is_mistakable),
        cmocka_unit_test(test_mistakable_where_they_lie),
        cmocka_unit_test(test_strands_together_are_neighbours),
        cmocka_unit_test(test_letters),
        cmocka_unit_test(test_every_pattern_has_words_and_strokes),
        cmocka_unit_test(test_html_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

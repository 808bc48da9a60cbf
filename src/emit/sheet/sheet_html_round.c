/* What a page holds to turn a place by: its surface unrolled, in an element that no reader shows, and its outline.
 * From these the script makes the picture at any angle. */
#include "emit/sheet/sheet_html_round.h"

#include "draw/picture/all_round.h"
#include "emit/emit.h"
#include "emit/html_page.h"

#include <stdio.h>

/* Points of one surface, and of all on a page: each takes some ten bytes. The largest of the examples has a tenth
 * of the first, and a page of the second is still opened in a moment. */
enum { MOST_POINTS = 30000, MOST_ON_PAGE = 300000, PREFIX_SIZE = 32 };

static void put_numbers(Buffer *out, const AllRound *round)
{
    for (uint32_t i = 0; i < round->outline_count; i++) {
        buffer_text(out, i ? " " : "");
        buffer_number_short(out, round->outline[i].x, 3);
        buffer_text(out, " ");
        buffer_number_short(out, round->outline[i].y, 3);
    }
}

static void put_round(Buffer *out, const AllRound *round, uint32_t number)
{
    char prefix[PREFIX_SIZE];
    buffer_format(out, "<template id=\"" ROUND_ID "\"", number, round->place);
    buffer_text(out, round->guide ? " data-guide" : "");
    if (round->drawing) {
        buffer_text(out, " data-axis=\"");
        buffer_number_short(out, round->axis, 3);
        buffer_text(out, "\" data-facing=\"");
        buffer_number_short(out, round->facing, 3);
        buffer_text(out, "\" data-outline=\"");
        put_numbers(out, round);
        buffer_text(out, "\">\n");
        snprintf(prefix, sizeof prefix, ROUND_ID "-", number, round->place);
        emit_svg_element(out, round->drawing, prefix);
    } else {
        buffer_text(out, ">\n");
    }
    buffer_text(out, "</template>\n");
}

void html_rounds(Buffer *out, const Plan *plan, uint32_t rod, uint32_t section, double scale, uint32_t number,
                 uint32_t *points)
{
    AllRounds rounds = draw_all_round(out->arena, plan, rod, section, scale, MOST_POINTS, MOST_ON_PAGE - *points);
    for (uint32_t i = 0; i < rounds.count; i++)
        put_round(out, &rounds.items[i], number);
    *points += rounds.points;
}

void html_round_dialog(Buffer *out)
{
    buffer_text(
        out,
        "<dialog id=\"round\" aria-labelledby=\"round-heading\">\n<div class=\"list-head\">"
        "<h2 id=\"round-heading\" dir=\"auto\"></h2>"
        "<button type=\"button\" id=\"close-round\">Close</button></div>\n"
        "<div class=\"shown\">\n"
        "<p id=\"round-none\" hidden>This wrap has more parts than a page can turn. "
        "<code>turnlay draw --view side --turn 90</code> draws it as it is seen from 90 degrees, or from any "
        "other side.</p>\n"
        "<div id=\"round-held\">\n"
        "<div id=\"turned\" role=\"slider\" tabindex=\"0\" aria-label=\"The rod, turned round its axis\" "
        "aria-orientation=\"vertical\" aria-valuemin=\"0\" aria-valuemax=\"359\" aria-valuenow=\"0\">"
        "<div><canvas></canvas></div></div>\n"
        "<p id=\"round-says\"></p>\n"
        "<div class=\"turns\">"
        "<button type=\"button\" data-turn=\"15\">Turn up</button>"
        "<button type=\"button\" data-turn=\"-15\">Turn down</button>"
        "<button type=\"button\" data-turn=\"180\">Far side</button>"
        "<button type=\"button\" id=\"round-line\">Rod's line</button>"
        "<button type=\"button\" id=\"round-near\" aria-pressed=\"true\">Near by</button>"
        "<button type=\"button\" data-along=\"-1\">To butt</button>"
        "<button type=\"button\" data-along=\"1\">To tip</button></div>\n"
        "<p class=\"note\"><span id=\"round-guide\" hidden>The foot is shown flat, and without its ring. </span>The finished wrap. Drag up or down to turn it, sideways to go along it. The arrow keys turn it by 5 "
        "degrees, Page Up and Page Down by 45.</p>\n"
        "</div></div>\n</dialog>\n");
}

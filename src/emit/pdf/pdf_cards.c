/* Cards on paper: marking strips at true size, a line for each run, what to cut, and room for what was measured. A
 * card is a list of blocks whose heights are known before any is printed, so that it stays on one page where it
 * can. */
#include "emit/pdf/pdf_cards.h"

#include "emit/pdf/pdf_marking_strip.h"

#include <math.h>
#include <string.h>

#define BOX 3.4
#define BOX_APART 1.6
#define COLUMNS_APART 2.2
#define SWATCH_WIDTH 5.0
#define SWATCH_HEIGHT 3.2
#define WIDEST_CELL 40.0
#define MEASURE_HEIGHT 5.3
#define WRITING_GAP 1.5
#define ROW_GAP 1.0
#define CARD_GAP 2.5
#define COURSE_WIDTH 22.0
#define COURSE_HEIGHT 6.0
#define LEAST_COURSE 2.2
#define COURSE_GAP 0.8
#define COURSE_WORD "lightness"

static const Style chapter_style = {.points = 13, .bold = true, .colour = INK};
static const Style heading_style = {.points = 11.5, .bold = true, .colour = INK};
static const Style layer_style = {.points = 9.5, .bold = true, .colour = INK};
static const Style words_style = {.points = 9, .colour = INK};
static const Style bold_style = {.points = 9, .bold = true, .colour = INK};
static const Style right_style = {.points = 9, .colour = INK, .align = ALIGN_END};
static const Style count_style = {.points = 9, .bold = true, .colour = INK, .align = ALIGN_END};
static const Style head_style = {.points = 8, .colour = GREY_INK};
static const Style head_right_style = {.points = 8, .colour = GREY_INK, .align = ALIGN_END};
static const Style letters_style = {.points = 8, .colour = INK};

/* Where a layer's columns begin or, flush right, end. */
typedef struct CardColumns {
    double number, swatch, count, thread, end, how;
} CardColumns;

typedef enum { BLOCK_HEADING, BLOCK_WORDS, BLOCK_CUTS, BLOCK_STRIPS, BLOCK_HEADS, BLOCK_LINE } BlockKind;

/* What stands on a card between two heights. */
typedef struct CardBlock {
    BlockKind kind;
    double height;
    const Style *style; /* BLOCK_WORDS */
    const char *words;
    const CutLine *cuts; /* BLOCK_CUTS: so many, side by side */
    uint32_t cut_count, beside;
    const StripRows *strips;
    const CardColumns *columns; /* BLOCK_HEADS, BLOCK_LINE */
    const CardLine *line;
} CardBlock;

typedef LIST_OF(CardBlock) CardBlocks;

/* --- a card's blocks --- */

static void add_words(Paper *paper, CardBlocks *blocks, const Style *style, const char *words, double after)
{
    if (*words)
        *LIST_ADD(paper->arena, blocks) =
            (CardBlock){.kind = BLOCK_WORDS,
                        .height = paper_text_height(paper, style, paper_width(paper), words) + after,
                        .style = style,
                        .words = words};
}

/* As many side by side as have room in one line each. */
enum { MOST_CUTS_BESIDE = 3, LEAST_CUTS_BESIDE = 2 };

static double cut_width(const Paper *paper, uint32_t beside) { return paper_width(paper) / beside; }

/* "navy 2: spool, 14.94 m", "mist 10 and 12: cut piece, 38 cm each", "loop of strong line, 21 cm". */
static const char *cut_words(Paper *paper, const CutLine *cut)
{
    return text_format(paper->arena, "%s%s %s, %s%s", cut->labels, cut->colour == NO_COLOUR ? "" : ":", cut->what,
                       cut->length, cut->count > 1 ? " each" : "");
}

static double cut_words_width(const Paper *paper, uint32_t beside)
{
    return cut_width(paper, beside) - BOX - BOX_APART - SWATCH_WIDTH - 2 * COLUMNS_APART;
}

static uint32_t cuts_beside(Paper *paper, const Card *card)
{
    double widest = 0;
    for (uint32_t i = 0; i < card->cut_count; i++)
        widest = fmax(widest, paper_text_width(paper, &words_style, cut_words(paper, &card->cuts[i])));
    return widest < cut_words_width(paper, MOST_CUTS_BESIDE) ? MOST_CUTS_BESIDE : LEAST_CUTS_BESIDE;
}

static void add_cuts(Paper *paper, CardBlocks *blocks, const Card *card)
{
    uint32_t beside = cuts_beside(paper, card);
    for (uint32_t i = 0; i < card->cut_count; i += beside) {
        CardBlock block = {.kind = BLOCK_CUTS, .height = BOX, .cuts = &card->cuts[i], .beside = beside};
        for (; block.cut_count < beside && i + block.cut_count < card->cut_count; block.cut_count++)
            block.height =
                fmax(block.height, paper_text_height(paper, &words_style, cut_words_width(paper, beside),
                                                     cut_words(paper, &block.cuts[block.cut_count])));
        block.height += ROW_GAP;
        *LIST_ADD(paper->arena, blocks) = block;
    }
}

/* "a: 6.5 mm"; of several layers "Layer 1, a: 45 mm; b: 52 mm. Layer 2, a: 7 mm." At one of the card's places. */
static const char *letters_at(Arena *arena, const StripRows *rows, const Card *card, const PlannedPlace *place)
{
    Buffer words;
    buffer_start(&words, arena);
    for (uint32_t i = 0; i < rows->count; i++) {
        const char *letters = marks_with_letters(arena, &rows->strips[i]);
        if (rows->strips[i].place != place || !*letters)
            continue;
        if (card->layer_count > 1)
            buffer_format(&words, "%sLayer %u, %s.", words.length ? " " : "",
                          (unsigned)(rows->cards[i] - card->layers) + 1, letters);
        else
            buffer_text(&words, letters);
    }
    return buffer_string(&words);
}

static bool is_first_of_place(const StripRows *rows, uint32_t index)
{
    for (uint32_t i = 0; i < index; i++)
        if (rows->strips[i].place == rows->strips[index].place)
            return false;
    return true;
}

/* Of a guide whose feet are alike once. */
static void add_letters(Paper *paper, CardBlocks *blocks, const StripRows *rows, const Card *card)
{
    const char *said = "";
    for (uint32_t i = 0; i < rows->count; i++) {
        if (!is_first_of_place(rows, i))
            continue;
        const char *letters = letters_at(paper->arena, rows, card, rows->strips[i].place);
        if (strcmp(letters, said) != 0)
            add_words(paper, blocks, &letters_style, letters, 0.6);
        said = letters;
    }
}

static void add_strips(Paper *paper, CardBlocks *blocks, const SheetRod *rod, const Card *card, const Bench *bench)
{
    StripRows *rows = arena_take(paper->arena, sizeof *rows);
    *rows = strip_rows(paper->arena, rod, card, bench);
    if (!rows->count)
        return;
    *LIST_ADD(paper->arena, blocks) =
        (CardBlock){.kind = BLOCK_STRIPS, .height = strip_rows_height(paper, rows), .strips = rows};
    add_letters(paper, blocks, rows, card);
}

/* The same for all layers of the card. */
static CardColumns columns_of(Paper *paper, const Card *card)
{
    double count = paper_text_width(paper, &head_style, "turns"),
           thread = paper_text_width(paper, &head_style, "thread");
    double end = paper_text_width(paper, &head_style, "ends at");
    for (uint32_t l = 0; l < card->layer_count; l++)
        for (uint32_t i = 0; i < card->layers[l].line_count; i++) {
            const CardLine *line = &card->layers[l].lines[i];
            count = fmax(count, paper_text_width(paper, &count_style, line->count));
            thread = fmax(thread, paper_text_width(paper, &bold_style, line->thread));
            end = fmax(end, paper_text_width(paper, &right_style, line->end));
        }
    CardColumns columns = {.number = paper->left + 6.5};
    columns.swatch = columns.number + COLUMNS_APART;
    columns.count = columns.swatch + SWATCH_WIDTH + COLUMNS_APART / 2 + fmin(count, WIDEST_CELL);
    columns.thread = columns.count + COLUMNS_APART;
    columns.end = columns.thread + fmin(thread, WIDEST_CELL) + 0.5 + COLUMNS_APART + fmin(end, WIDEST_CELL);
    columns.how = columns.end + COLUMNS_APART;
    return columns;
}

static double thread_width(const CardColumns *columns, const CardLine *line, Paper *paper)
{
    return fmax(columns->end - columns->thread - COLUMNS_APART - paper_text_width(paper, &right_style, line->end),
                10);
}

/* "after turn 300: 44.8 ± 0.6 mm" */
static const char *measure_words(Paper *paper, const CardMeasure *measure)
{
    return *measure->after ? text_format(paper->arena, "%s: %s", measure->after, measure->width) : measure->width;
}

static double measure_width(Paper *paper, const CardMeasure *measure)
{
    return paper_text_width(paper, &right_style, measure_words(paper, measure)) + WRITING_GAP + WRITING_LINE;
}

/* What one width beside what is said of the line takes of its room, if that makes the line less high than below:
 * 0, all widths stand below. */
static double width_beside(Paper *paper, const CardColumns *columns, const CardLine *line)
{
    if (line->measures.count != 1)
        return 0;
    double taken = measure_width(paper, &line->measures.items[0]) + COLUMNS_APART,
           room = paper->right - columns->how;
    bool less = paper_text_height(paper, &words_style, room - taken, line->how)
                < paper_text_height(paper, &words_style, room, line->how) + MEASURE_HEIGHT;
    return less ? taken : 0;
}

static double how_width(Paper *paper, const CardColumns *columns, const CardLine *line)
{
    return paper->right - columns->how - width_beside(paper, columns, line);
}

static double own_height(Paper *paper, const CardColumns *columns, const CardLine *line)
{
    double words = paper_text_height(paper, &words_style, how_width(paper, columns, line), line->how);
    double thread = paper_text_height(paper, &bold_style, thread_width(columns, line, paper), line->thread);
    return fmax(fmax(words, thread), 4);
}

/* How many widths from this one on stand in one row, and how wide they are together. */
static uint32_t measures_in_row(Paper *paper, const CardColumns *columns, const CardLine *line, uint32_t first,
                                double *width)
{
    uint32_t next = first;
    for (*width = -COLUMNS_APART; next < line->measures.count; next++) {
        double wider = *width + COLUMNS_APART + measure_width(paper, &line->measures.items[next]);
        if (next > first && columns->swatch + wider > paper->right)
            break;
        *width = wider;
    }
    return next - first;
}

static uint32_t measure_rows(Paper *paper, const CardColumns *columns, const CardLine *line)
{
    uint32_t rows = 0;
    double width;
    for (uint32_t i = 0; i < line->measures.count; i += measures_in_row(paper, columns, line, i, &width))
        rows++;
    return rows;
}

static double line_height(Paper *paper, const CardColumns *columns, const CardLine *line)
{
    double own = own_height(paper, columns, line) + ROW_GAP;
    if (width_beside(paper, columns, line) > 0)
        return fmax(own, MEASURE_HEIGHT);
    return own + measure_rows(paper, columns, line) * MEASURE_HEIGHT;
}

static void add_layer(Paper *paper, CardBlocks *blocks, const CardLayer *layer, const CardColumns *columns,
                      bool heads)
{
    add_words(paper, blocks, &layer_style, layer->heading, 1);
    add_words(paper, blocks, &words_style, layer->setting, 1);
    if (heads)
        *LIST_ADD(paper->arena, blocks) = (CardBlock){.kind = BLOCK_HEADS, .height = 4, .columns = columns};
    for (uint32_t i = 0; i < layer->line_count; i++)
        *LIST_ADD(paper->arena, blocks) = (CardBlock){.kind = BLOCK_LINE,
                                                      .height = line_height(paper, columns, &layer->lines[i]),
                                                      .columns = columns,
                                                      .line = &layer->lines[i]};
    add_words(paper, blocks, &words_style, layer->after, 1);
}

static CardBlocks blocks_of(Paper *paper, const SheetRod *rod, const Card *card, const char *heading,
                            const Bench *bench)
{
    CardBlocks blocks = {0};
    *LIST_ADD(paper->arena, &blocks) =
        (CardBlock){.kind = BLOCK_HEADING,
                    .height = paper_text_height(paper, &heading_style, paper_width(paper), heading) + 1.5,
                    .words = heading};
    for (uint32_t i = 0; i < card->place_count; i++)
        add_words(paper, &blocks, &words_style, card->marks[i], 0.4);
    add_words(paper, &blocks, &words_style, card->before, 0.4);
    add_cuts(paper, &blocks, card);
    add_strips(paper, &blocks, rod, card, bench);
    CardColumns *columns = arena_take(paper->arena, sizeof *columns);
    *columns = columns_of(paper, card);
    for (uint32_t i = 0; i < card->layer_count; i++)
        add_layer(paper, &blocks, &card->layers[i], columns, i == 0);
    return blocks;
}

/* --- on the page --- */

static void print_cuts(Paper *paper, const CardBlock *block)
{
    for (uint32_t i = 0; i < block->cut_count; i++) {
        const CutLine *cut = &block->cuts[i];
        double x = paper->left + i * cut_width(paper, block->beside);
        paper_ruled(paper, RULED_BOX, (Ruled){x, paper->y + 0.3, BOX, BOX});
        x += BOX + BOX_APART;
        if (cut->colour != NO_COLOUR) {
            paper_box(paper, x, paper->y + 0.4, SWATCH_WIDTH, SWATCH_HEIGHT, cut->colour, GREY_INK);
            x += SWATCH_WIDTH + COLUMNS_APART / 2;
        }
        paper_text(paper, &words_style, x, paper->y, cut_words_width(paper, block->beside), cut_words(paper, cut));
    }
}

static void print_heads(Paper *paper, const CardColumns *columns)
{
    paper_text(paper, &head_right_style, columns->count, paper->y, 0, "turns");
    paper_text(paper, &head_style, columns->thread, paper->y, 0, "thread");
    paper_text(paper, &head_right_style, columns->end, paper->y, 0, "ends at");
    paper_text(paper, &head_style, columns->how, paper->y, 0, "comes in, goes out");
    paper_text(paper, &head_right_style, paper->right, paper->y, 0, "should be, is");
}

/* Of a fade half and half; strands together side by side as lanes. */
static void print_swatch(Paper *paper, double x, double y, double width, const Strands *strands)
{
    double lane = SWATCH_HEIGHT / strands->count;
    for (uint32_t i = 0; i < strands->count; i++)
        paper_box(paper, x, y + i * lane, width, lane, strands->items[i].thread->colour, NO_COLOUR);
}

static void print_swatches(Paper *paper, const CardColumns *columns, const CardLine *line)
{
    double x = columns->swatch, y = paper->y + 0.5;
    if (!line->strands)
        return;
    print_swatch(paper, x, y, line->into ? SWATCH_WIDTH / 2 : SWATCH_WIDTH, line->strands);
    if (line->into)
        print_swatch(paper, x + SWATCH_WIDTH / 2, y, SWATCH_WIDTH / 2, line->into);
    paper_box(paper, x, y, SWATCH_WIDTH, SWATCH_HEIGHT, NO_COLOUR, GREY_INK);
}

static void trace_course(Paper *paper, const CardLine *line, bool even, Ruled field, bool butt_left)
{
    double x0 = NAN, y0 = NAN;
    for (uint32_t i = 0; i < line->course_count; i++) {
        const CardCourse *point = &line->course[i];
        double share = even ? point->even : point->seen;
        double x = field.x + field.width * (butt_left ? point->along : 1 - point->along);
        double y = field.y + field.height * (1 - fmin(fmax(share, 0), 1));
        if (!isnan(share) && !isnan(x0))
            paper_trace(paper, x0, y0, x, y);
        x0 = isnan(share) ? NAN : x;
        y0 = y;
    }
}

/* What a curve is, right of it, as long as there is room before the line's end; else nothing. */
static void say_course(Paper *paper, const CardColumns *columns, Ruled field, const Bench *bench)
{
    double x = field.x + field.width + COURSE_GAP, room = columns->end - x;
    double high = paper_text_height(paper, &head_style, 0, COURSE_WORD);
    const char *words[] = {text_format(paper->arena, COURSE_WORD " from %s",
                                       show_quantity(paper->arena, bench->units, QUANTITY_DISTANCE, bench->far)),
                           COURSE_WORD};
    for (size_t i = 0; i < sizeof words / sizeof *words && high <= field.height + COURSE_GAP; i++)
        if (paper_text_width(paper, &head_style, words[i]) <= room) {
            paper_text(paper, &head_style, x, field.y + (field.height - high) / 2, 0, words[i]);
            return;
        }
}

/* How light a fade is along its turns, the lighter shade on top, beside an even one (broad and pale): below what
 * is wound, where the words beside that leave the room. */
static void print_course(Paper *paper, const CardBlock *block, const Bench *bench)
{
    const CardLine *line = block->line;
    double thread = paper_text_height(paper, &bold_style, thread_width(block->columns, line, paper), line->thread);
    double height = fmin(block->height - ROW_GAP - thread - COURSE_GAP, COURSE_HEIGHT);
    if (!line->course_count || height < LEAST_COURSE)
        return;
    Ruled field = {block->columns->swatch, paper->y + thread + COURSE_GAP / 2, COURSE_WIDTH, height};
    trace_course(paper, line, true, field, bench->butt_left);
    paper_stroke(paper, PALE_INK, 0.5);
    trace_course(paper, line, false, field, bench->butt_left);
    paper_stroke(paper, INK, 0.2);
    say_course(paper, block->columns, field, bench);
}

static void print_measure(Paper *paper, const CardMeasure *measure, double right, double y)
{
    double x = right - WRITING_LINE;
    paper_text(paper, &right_style, x - WRITING_GAP, y, 0, measure_words(paper, measure));
    paper_line(paper, x, y + 4.2, right, y + 4.2, INK, 0.2);
}

/* In the order of their turns. */
static void print_measures(Paper *paper, const CardColumns *columns, const CardLine *line)
{
    double y = paper->y, width;
    if (!(width_beside(paper, columns, line) > 0))
        y += own_height(paper, columns, line) + 0.6;
    for (uint32_t i = 0, left = 0; i < line->measures.count; i++, left--) {
        if (!left) {
            y += i ? MEASURE_HEIGHT : 0;
            left = measures_in_row(paper, columns, line, i, &width);
        }
        width -= measure_width(paper, &line->measures.items[i]);
        print_measure(paper, &line->measures.items[i], paper->right - width, y);
        width -= COLUMNS_APART;
    }
}

static void print_line(Paper *paper, const CardBlock *block, const Bench *bench)
{
    const CardColumns *columns = block->columns;
    const CardLine *line = block->line;
    paper_text(paper, &right_style, columns->number, paper->y, 0,
               text_format(paper->arena, "%u", (unsigned)line->number));
    print_swatches(paper, columns, line);
    print_course(paper, block, bench);
    paper_text(paper, &count_style, columns->count, paper->y, 0, line->count);
    paper_text(paper, &bold_style, columns->thread, paper->y, thread_width(columns, line, paper), line->thread);
    paper_text(paper, &right_style, columns->end, paper->y, 0, line->end);
    paper_text(paper, &words_style, columns->how, paper->y, how_width(paper, columns, line), line->how);
    print_measures(paper, columns, line);
    paper_ruled(paper, RULED_PARTING,
                (Ruled){paper->left, paper->y + block->height - ROW_GAP / 2, paper_width(paper), 0});
}

static void print_block(Paper *paper, const CardBlock *block, const Bench *bench)
{
    switch (block->kind) {
    case BLOCK_HEADING: paper_heading(paper, &heading_style, 1, block->words, 0); return;
    case BLOCK_STRIPS: paper_strip_rows(paper, block->strips, bench->units); return;
    case BLOCK_WORDS:
        paper_text(paper, block->style, paper->left, paper->y, paper_width(paper), block->words);
        break;
    case BLOCK_CUTS: print_cuts(paper, block); break;
    case BLOCK_HEADS: print_heads(paper, block->columns); break;
    case BLOCK_LINE: print_line(paper, block, bench); break;
    }
    paper->y += block->height;
}

static double blocks_height(const CardBlocks *blocks)
{
    double height = 0;
    for (uint32_t i = 0; i < blocks->count; i++)
        height += blocks->items[i].height;
    return height;
}

/* What may not be parted from what stands below it. */
static double held_height(const CardBlocks *blocks, uint32_t index)
{
    double height = blocks->items[index].height;
    bool strips = blocks->items[index].kind == BLOCK_STRIPS; /* their pieces go on by themselves */
    while (!strips && blocks->items[index].kind != BLOCK_LINE && blocks->items[index].kind != BLOCK_CUTS
           && index + 1 < blocks->count && blocks->items[index + 1].kind != BLOCK_STRIPS)
        height += blocks->items[++index].height;
    return strips ? STRIP_HEIGHT : height;
}

static void print_card(Paper *paper, const CardBlocks *blocks, const Bench *bench)
{
    for (uint32_t i = 0; i < blocks->count; i++) {
        if (paper->y + held_height(blocks, i) > paper->bottom)
            paper_break_to_rulers(paper);
        print_block(paper, &blocks->items[i], bench);
    }
    paper->y += CARD_GAP;
}

/* --- cards on pages --- */

#define NO_CARD UINT32_MAX
/* mm of heading, words and rulers above the first. */
#define CHAPTER_HEIGHT 42.0

typedef struct WaitingCard {
    CardBlocks blocks;
    double height;
    uint32_t next; /* on its page; NO_CARD for the last */
} WaitingCard;

typedef struct CardPage {
    uint32_t first, last; /* cards */
    double left;          /* mm that are left of it */
} CardPage;

typedef struct CardPages {
    LIST_OF(WaitingCard) cards;
    LIST_OF(CardPage) pages;
} CardPages;

/* A card goes back over so many pages to find room, so that cards stay near their places' order. */
enum { LOOK_BACK = 4 };

static CardPage *page_with_room(CardPages *pages, double height)
{
    uint32_t count = pages->pages.count;
    for (uint32_t i = count > LOOK_BACK ? count - LOOK_BACK : 0; i < count; i++)
        if (pages->pages.items[i].left >= height)
            return &pages->pages.items[i];
    return NULL;
}

/* left: of the first page, and of any other. */
static void fit_card(Paper *paper, CardPages *pages, uint32_t index, double left_of_first, double left)
{
    WaitingCard *card = &pages->cards.items[index];
    CardPage *page = page_with_room(pages, card->height);
    card->next = NO_CARD;
    if (page) {
        pages->cards.items[page->last].next = index;
        page->last = index;
    } else {
        double room = pages->pages.count ? left : left_of_first;
        page = LIST_ADD(paper->arena, &pages->pages);
        *page = (CardPage){.first = index, .last = index, .left = room};
    }
    page->left -= card->height + CARD_GAP;
}

/* The emptiest comes last: steps go on below it. The first has the heading. */
static uint32_t last_page(const CardPages *pages)
{
    uint32_t last = pages->pages.count - 1;
    for (uint32_t i = last; i > 0; i--)
        if (pages->pages.items[i].left > pages->pages.items[last].left)
            last = i;
    return last;
}

static void print_page(Paper *paper, const CardPages *pages, uint32_t page, const Bench *bench)
{
    if (page)
        paper_break_to_rulers(paper);
    for (uint32_t i = pages->pages.items[page].first; i != NO_CARD; i = pages->cards.items[i].next)
        print_card(paper, &pages->cards.items[i].blocks, bench);
}

static void print_how(Paper *paper)
{
    static const char how[] =
        "A card is a place in a few lines; work by their numbers. The steps say it at length. Cut a strip out, or "
        "bend the paper along its upper edge; lay that edge along the blank, the red line on your mark. Its lines are "
        "edges of bands, its numbers the lines below; measure at the triangles. Of a strip in parts, lay red joining "
        "lines of one number on each other.";
    paper->y += paper_text(paper, &words_style, paper->left, paper->y, paper_width(paper), how) + 2;
}

static bool is_of_section(const SheetRod *rod, const Card *card, const SheetSection *section)
{
    return !section->heading || rod->bench->rod->places[card->place].section == section->section;
}

/* Cards may stand in another order than they are worked in. */
static const char *numbered_heading(Paper *paper, const Card *card, uint32_t number, uint32_t count)
{
    return count == 1
               ? card->heading
               : text_format(paper->arena, "Card %u of %u: %s", (unsigned)number, (unsigned)count, card->heading);
}

void paper_cards(Paper *paper, const SheetRod *rod, const SheetSection *section, const Bench *bench, bool how)
{
    CardPages pages = {0};
    uint32_t number = 0, count = 0;
    for (uint32_t i = 0; i < rod->card_count; i++)
        count += is_of_section(rod, &rod->cards[i], section);
    for (uint32_t i = 0; i < rod->card_count; i++) {
        const Card *card = &rod->cards[i];
        if (!is_of_section(rod, card, section))
            continue;
        CardBlocks blocks = blocks_of(paper, rod, card, numbered_heading(paper, card, ++number, count), bench);
        *LIST_ADD(paper->arena, &pages.cards) = (WaitingCard){.blocks = blocks, .height = blocks_height(&blocks)};
    }
    if (!pages.cards.count)
        return;
    if (paper->y + CHAPTER_HEIGHT + pages.cards.items[0].height > paper->bottom)
        paper_break(paper);
    paper_heading(paper, &chapter_style, 0, "Cards, with marking strips at true size", 60);
    if (how)
        print_how(paper);
    double above = paper->y;
    paper_proof_rulers(paper);
    double rulers = paper->y - above;
    for (uint32_t i = 0; i < pages.cards.count; i++)
        fit_card(paper, &pages, i, paper->bottom - paper->y, paper->bottom - paper->top - rulers);
    uint32_t last = last_page(&pages);
    for (uint32_t i = 0; i < pages.pages.count; i++)
        if (i != last)
            print_page(paper, &pages, i, bench);
    print_page(paper, &pages, last, bench);
}

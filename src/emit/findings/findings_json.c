#include "emit/emit.h"
#include "emit/json_page.h"

static void put_mark(JsonPage *page, const char *name, LineMap *lines, const Mark *mark)
{
    LineColumn position = line_map_find(lines, mark->span);
    page_open_flat(page, name, '{');
    page_text(page, "file", line_map_source(lines, mark->span)->path);
    page_whole(page, "line", position.line);
    page_whole(page, "column", position.column);
    page_whole(page, "start", mark->span.start);
    page_whole(page, "end", mark->span.end);
    page_text(page, "label", mark->label);
    page_close(page, '}');
}

static void put_edit(JsonPage *page, LineMap *lines, const Edit *edit)
{
    page_open_flat(page, "edit", '{');
    page_text(page, "file", line_map_source(lines, edit->span)->path);
    page_whole(page, "start", edit->span.start);
    page_whole(page, "end", edit->span.end);
    page_text(page, "text", edit->text);
    page_close(page, '}');
}

static void put_finding(JsonPage *page, LineMap *lines, const Finding *finding)
{
    page_open(page, NULL, '{');
    page_text(page, "code", finding_code_text(finding->code));
    page_text(page, "severity", severity_word(finding->severity));
    page_text(page, "title", finding_title(finding->code));
    page_text(page, "message", finding->message);
    put_mark(page, "at", lines, &finding->at);
    page_open(page, "related", '[');
    for (unsigned i = 0; i < finding->related_count; i++)
        put_mark(page, NULL, lines, &finding->related[i]);
    page_close(page, ']');
    page_text(page, "mend", finding->mend);
    if (finding->has_edit)
        put_edit(page, lines, &finding->edit);
    page_whole(page, "times", finding->times);
    page_close(page, '}');
}

void page_findings(JsonPage *page, const Findings *findings, FindingsShown shown, LineMap *lines)
{
    page_open(page, "findings", '[');
    for (uint32_t i = 0; i < findings->list.count; i++)
        if (finding_is_shown(&findings->list.items[i], shown))
            put_finding(page, lines, &findings->list.items[i]);
    page_close(page, ']');
    page_whole(page, "errors", findings->errors);
    page_whole(page, "warnings", findings->warnings);
    page_whole(page, "notes", findings->notes);
    page_whole(page, "left_out", findings->left_out);
}

void emit_findings_json(Buffer *out, const Findings *findings, const Sources *sources, FindingsShown shown)
{
    JsonPage page;
    page_start(&page, out);
    page_open(&page, NULL, '{');
    page_text(&page, "format", "turnlay findings");
    page_whole(&page, "version", 1);
    page_findings(&page, findings, shown, line_map_make(out->arena, sources));
    page_close(&page, '}');
    page_end(&page);
}

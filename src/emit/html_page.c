#include "emit/html_page.h"
#include "base/unbroken.h"
#include "base/visible.h"

#include <string.h>

/* `broken`: lines may end at every blank. */
static void put_escaped(Buffer *out, const char *text, bool broken)
{
    static const char *const escapes[128] = {
        ['&'] = "&amp;", ['<'] = "&lt;", ['>'] = "&gt;", ['"'] = "&quot;", ['\''] = "&#39;"};
    for (const char *at = text; *at;) {
        const char *start = at;
        while (*at && ((unsigned char)*at >= 128 || !escapes[(unsigned char)*at])
               && (*at != ' ' || broken || !joins(text, at)))
            at++;
        buffer_put(out, start, (size_t)(at - start));
        if (*at)
            buffer_text(out, *at == ' ' ? NO_BREAK_SPACE : escapes[(unsigned char)*at]);
        at += *at != 0;
    }
}

void html_text(Buffer *out, const char *text) { put_escaped(out, visible(out->arena, text), true); }
void html_unbroken(Buffer *out, const char *text) { put_escaped(out, visible(out->arena, text), false); }

void html_element(Buffer *out, const char *tag, const char *name, const char *text)
{
    if (!text || !*text)
        return;
    buffer_text(out, "<");
    buffer_text(out, tag);
    buffer_text(out, " class=\"");
    buffer_text(out, name);
    buffer_text(out, "\" dir=\"auto\">");
    html_unbroken(out, text);
    buffer_text(out, "</");
    buffer_text(out, tag);
    buffer_text(out, ">\n");
}

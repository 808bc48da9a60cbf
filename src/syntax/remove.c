/* Taking something out of a text so that nothing odd is left where it stood. */
#include "syntax/syntax.h"

static bool is_blank(char byte) { return byte == ' ' || byte == '\t'; }

Span span_to_remove(const Source *source, Span span)
{
    uint32_t start = span.start, end = span.end;
    while (start > 0 && is_blank(source->bytes[start - 1]))
        start--;
    while (end < source->length && is_blank(source->bytes[end]))
        end++;
    char before = start ? source->bytes[start - 1] : '\n', after = source->bytes[end];
    if (before == ',') {
        span.start = start - 1;
        return span;
    }
    if (after == ',') {
        for (end++; end < source->length && is_blank(source->bytes[end]); end++)
            ;
        span.end = end;
        return span;
    }
    if (before == '\n' && (after == '\n' || end == source->length)) {
        span.start = start;
        span.end = end < source->length ? end + 1 : end;
        return span;
    }
    if (before != '\n')
        span.start = start;
    return span;
}

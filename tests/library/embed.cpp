// The header as C++ reads it, and the names as C++ links them.
#include <turnlay.h>

#include <cmath>
#include <cstdio>
#include <string>

int main()
{
    const std::string text = "edition 1\n"
                             "thread navy { turns: 67 per cm }\n"
                             "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                             "rod \"One\" on tube { at 20 cm { band 40 turns of navy } }\n";
    TurnlayCompilation *compilation = turnlay_new();
    TurnlayText page = {nullptr, 0};
    turnlay_give(compilation, "one.lay", text.data(), text.size());
    TurnlayStatus status = turnlay_finish(compilation);
    if (status == TURNLAY_DONE)
        status = turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, 1, std::nan(""), &page);
    const std::string picture(page.bytes ? page.bytes : "", page.length);
    turnlay_text_free(&page);
    turnlay_free(compilation);
    std::puts(turnlay_status_words(status));
    return picture.find("<svg") != std::string::npos ? 0 : 1;
}

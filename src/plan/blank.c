#include "plan/layout.h"

double blank_butt(const Blank *blank) { return blank->stations[0].at; }
double blank_tip(const Blank *blank) { return blank->stations[blank->station_count - 1].at; }

/* The station before x; x lies between the first and the last. */
static uint32_t station_before(const Blank *blank, double x)
{
    uint32_t low = 0, high = blank->station_count - 1;
    while (high - low > 1) {
        uint32_t middle = low + (high - low) / 2;
        if (blank->stations[middle].at <= x)
            low = middle;
        else
            high = middle;
    }
    return low;
}

double blank_diameter(const Blank *blank, double x)
{
    const Station *stations = blank->stations;
    if (x <= blank_butt(blank))
        return stations[0].diameter;
    if (x >= blank_tip(blank))
        return stations[blank->station_count - 1].diameter;
    uint32_t i = station_before(blank, x);
    double part = (x - stations[i].at) / (stations[i + 1].at - stations[i].at);
    return stations[i].diameter + part * (stations[i + 1].diameter - stations[i].diameter);
}

double blank_integral(const Blank *blank, double low, double high)
{
    Sum sum = {0};
    double x = low;
    uint32_t next = low < blank_butt(blank)   ? 0
                    : low >= blank_tip(blank) ? blank->station_count
                                              : station_before(blank, low) + 1;
    while (x < high) {
        double end = next < blank->station_count ? blank->stations[next++].at : high;
        if (end > high)
            end = high;
        sum_add(&sum, (end - x) * (blank_diameter(blank, x) + blank_diameter(blank, end)) / 2);
        x = end;
    }
    return sum_value(&sum);
}

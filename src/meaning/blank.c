#include "meaning/blank.h"

#include "base/halfway.h"
#include "trade/trade.h"

double blank_butt(const Blank *blank) { return blank->stations[0].at; }
double blank_tip(const Blank *blank) { return blank->stations[blank->station_count - 1].at; }

uint32_t blank_station_after(const Blank *blank, double x)
{
    uint32_t low = 0, high = blank->station_count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (blank->stations[middle].at <= x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

double blank_diameter(const Blank *blank, double x) { return blank_diameter_beside(blank, x, x); }

double blank_diameter_beside(const Blank *blank, double x, double inside)
{
    const Station *stations = blank->stations;
    double there = (x + inside) / 2;
    if (there <= blank_butt(blank))
        return stations[0].diameter;
    if (there >= blank_tip(blank))
        return stations[blank->station_count - 1].diameter;
    uint32_t i = blank_station_after(blank, there) - 1;
    double part = (x - stations[i].at) / (stations[i + 1].at - stations[i].at);
    return stations[i].diameter + part * (stations[i + 1].diameter - stations[i].diameter);
}

double blank_integral(const Blank *blank, double low, double high)
{
    Sum sum = {0};
    double x = low;
    uint32_t next = blank_station_after(blank, low);
    while (x < high) {
        double end = next < blank->station_count ? blank->stations[next++].at : high;
        if (end > high)
            end = high;
        sum_add(&sum,
                (end - x) * (blank_diameter_beside(blank, x, end) + blank_diameter_beside(blank, end, x)) / 2);
        x = end;
    }
    return sum_value(&sum);
}

FootLies foot_lies(const Guide *guide, double mark, int foot)
{
    int direction = (guide->foot_count == 2 ? foot == 0 : guide->on_butt_side) ? 1 : -1;
    double end = mark - direction * guide->gap / 2;
    return (FootLies){direction, end - direction * guide->feet[foot], end};
}

// SPDX-License-Identifier: GPL-3.0-or-later
//
// oracle_width.cpp - the narrowest zone of points by CGAL: its convex hull, then its width of the hull's
// corners in exact arithmetic. A check of the minimum zone that shares nothing with it.
//
//     oracle_width FILE [COUNT]
//
// FILE holds x, y, z as doubles of the machine, COUNT points a cloud (default: all of them one cloud).
// Prints for each cloud its width, the corners of its hull, and the seconds of the processor that hull and width took.
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Homogeneous.h>
#include <CGAL/MP_Float.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Width_3.h>
#include <CGAL/Width_default_traits_3.h>
#include <CGAL/convex_hull_3.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <vector>

using Fast = CGAL::Exact_predicates_inexact_constructions_kernel;
using Exact = CGAL::Homogeneous<CGAL::MP_Float>;
using Traits = CGAL::Width_default_traits_3<Exact>;

static std::vector<double> read_file(const char *path)
{
    std::vector<double> values;
    double block[3 * 1024];
    std::FILE *file = std::fopen(path, "rb");

    if (file == nullptr) {
        std::perror(path);
        std::exit(4);
    }
    for (std::size_t got; (got = std::fread(block, sizeof block[0], 3 * 1024, file)) > 0;)
        values.insert(values.end(), block, block + got);
    std::fclose(file);
    return values;
}

static double now_s()
{
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

static void measure(const double *values, std::size_t count)
{
    std::vector<Fast::Point_3> points;
    std::vector<Exact::Point_3> corners;
    CGAL::Surface_mesh<Fast::Point_3> hull;
    CGAL::MP_Float numerator;
    CGAL::MP_Float denominator;

    for (std::size_t i = 0; i < count; i++)
        points.emplace_back(values[3 * i], values[3 * i + 1], values[3 * i + 2]);
    const double start = now_s();
    CGAL::convex_hull_3(points.begin(), points.end(), hull);
    const double middle = now_s();
    for (const auto vertex : hull.vertices()) {
        const Fast::Point_3 &p = hull.point(vertex);
        corners.emplace_back(CGAL::MP_Float(p.x()), CGAL::MP_Float(p.y()), CGAL::MP_Float(p.z()),
                             CGAL::MP_Float(1.0));
    }
    CGAL::Width_3<Traits> width(corners.begin(), corners.end());
    width.get_squared_width(numerator, denominator);
    std::printf("%.17g %zu %.6f %.6f\n",
                std::sqrt(CGAL::to_double(CGAL::Quotient<CGAL::MP_Float>(numerator, denominator))),
                corners.size(), middle - start, now_s() - middle);
}

int main(int argc, char **argv)
{
    if (argc < 2 || argc > 3) {
        std::fprintf(stderr, "usage: oracle_width FILE [COUNT]\n");
        return 2;
    }
    const std::vector<double> values = read_file(argv[1]);
    const std::size_t all = values.size() / 3;
    const std::size_t each = argc == 3 ? std::strtoul(argv[2], nullptr, 10) : all;

    for (std::size_t first = 0; each > 0 && first + each <= all; first += each)
        measure(values.data() + 3 * first, each);
    return 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Straightness of sections: by pencil, and against all strips through two points, which is brute
 * force over the same definition (ISO 12780-1, minimum zone).
 */
#include "bed_sample.h"

#include <math.h>
#include <stdlib.h>

static tu_bed_straightness judge(const double *along, const double *z, size_t count)
{
    const tu_bed_section section = {along, z, count};
    const size_t bytes = tu_bed_straightness_bytes(count);
    void *memory = malloc(bytes);
    tu_bed_straightness straight;
    tu_error error;

    assert_non_null(memory);
    check_status(tu_bed_judge_section(&section, memory, bytes, &straight, &error), TU_OK, &error);
    free(memory);
    return straight;
}

/* The narrowest strip with one of its lines through two of the points and all on one side. */
static double brute_force(const double *s, const double *z, size_t count)
{
    double best = INFINITY;

    for (size_t a = 0; a < count; a++) {
        for (size_t b = 0; b < a; b++) {
            const double length = hypot(s[a] - s[b], z[a] - z[b]);
            double low = 0, high = 0;
            for (size_t c = 0; c < count; c++) {
                const double d =
                    ((s[b] - s[a]) * (z[c] - z[a]) - (z[b] - z[a]) * (s[c] - s[a])) / length;
                low = fmin(low, d);
                high = fmax(high, d);
            }
            if (length > 0)
                best = fmin(best, high - low);
        }
    }
    return best;
}

static void sections_agree_with_all_strips(void **state)
{
    (void)state;
    check_random random = check_random_seed(51);

    for (int run = 0; run < 2000; run++) {
        const size_t count = 3 + check_random_below(&random, 12);
        double s[15], z[15];
        for (size_t i = 0; i < count; i++) {
            s[i] = check_random_uniform(&random, 0, 500);
            z[i] = run % 3 ? check_random_uniform(&random, 0, 0.5)
                           : (double)check_random_below(&random, 3);
        }
        const tu_bed_straightness straight = judge(s, z, count);
        check_close(straight.STRt_mm, brute_force(s, z, count), 1e-12, "straightness, mm");
        /* the certificate: two points on one line, the third as far from it as stated */
        const int32_t *c = straight.contact;
        const double far = z[c[2]] - z[c[0]] - straight.slope * (s[c[2]] - s[c[0]]);
        check_close(z[c[1]] - z[c[0]], straight.slope * (s[c[1]] - s[c[0]]), 1e-12, "line, mm");
        check_close(fabs(far) / hypot(1, straight.slope), straight.STRt_mm, 1e-12, "contact, mm");
        assert_true(straight.STRt_mm < 1e-12 || straight.single_is_high == (far > 0));
    }
}

static void a_bowl_has_its_worst_row_and_column(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_bowl);
    points[4 * 9 + 2].z_mm += 0.5; /* a bump in row 4, column 2 */
    bed_model made = bed_model_of(points, 63, false);
    tu_bed_straightness row[7], column[9];
    int32_t worst_row, worst_column;
    const size_t bytes = tu_bed_straightness_bytes(63);
    void *memory = malloc(bytes);
    tu_error error;

    check_status(tu_bed_find_straightness(&made.model, memory, bytes, row, column, &worst_row,
                                          &worst_column, &error),
                 TU_OK, &error);
    assert_int_equal(worst_row, 4);
    assert_int_equal(worst_column, 2);
    check_close(row[0].STRt_mm, 0.16, 1e-12, "straightness of a row, mm");
    check_close(column[0].STRt_mm, 0.09, 1e-12, "straightness of a column, mm");
    assert_int_equal(row[0].points, 9);
    assert_false(row[0].single_is_high);
    assert_true(row[4].single_is_high);
    assert_int_equal(row[4].contact[2], 4 * 9 + 2);
    points[9 + 1] = points[62]; /* of row 1 and column 1 one was not touched: the others count */
    bed_model_free(&made);
    made = bed_model_of(points, 62, false);
    check_status(tu_bed_find_straightness(&made.model, memory, bytes, row, column, &worst_row,
                                          &worst_column, &error),
                 TU_OK, &error);
    assert_int_equal(row[1].points, 8);
    assert_int_equal(column[1].points, 6);
    check_close(row[1].STRt_mm, 0.16, 1e-12, "straightness of a row, mm");
    check_close(column[1].STRt_mm, 0.09, 1e-12, "straightness of a column, mm");
    free(memory);
    bed_model_free(&made);
    free(points);
}

static void two_points_have_no_straightness_and_a_mesh_no_rows(void **state)
{
    (void)state;
    const double s[] = {0, 1}, z[] = {0, 1};
    tu_bed_point *points = bed_grid(3, 3, 100, bed_bowl);
    bed_model made = bed_model_of(points, 9, true);
    int32_t worst_row, worst_column;
    char memory[1024];
    tu_error error;

    check_nan(judge(s, z, 2).STRt_mm, "straightness of two points");
    check_status(tu_bed_find_straightness(&made.model, memory, sizeof memory, NULL, NULL,
                                          &worst_row, &worst_column, &error),
                 TU_UNDETERMINED, NULL);
    assert_int_equal(worst_row, TU_BED_NONE);
    check_status(tu_bed_find_straightness(NULL, memory, sizeof memory, NULL, NULL, &worst_row,
                                          &worst_column, &error),
                 TU_USAGE, NULL);
    check_status(tu_bed_find_straightness(&made.model, memory, sizeof memory, NULL, NULL,
                                          &worst_row, NULL, &error),
                 TU_USAGE, NULL);
    bed_model_free(&made);
    free(points);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sections_agree_with_all_strips),
        cmocka_unit_test(a_bowl_has_its_worst_row_and_column),
        cmocka_unit_test(two_points_have_no_straightness_and_a_mesh_no_rows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

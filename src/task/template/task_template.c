/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_template.c - the use case "template": from a sample line to a template in the shop file.
 */
#include "trueup/task_template.h"

#include "task/template/template_lines.h"
#include "task/template/template_save.h"
#include "task/typed_length.h"
#include "trueup/shop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct tu_template_run tu_template_run;

struct tu_template_run {
    const tu_task_template_request *request;
    tu_shop *shop;
    tu_template found;
    tu_template_lines lines;
    tu_warnings warnings;
};

tu_task_template_request tu_task_template_request_start(void)
{
    return (tu_task_template_request){.shown_mm = {NAN, NAN, NAN}};
}

/* --- What contradicts itself --- */

/* What an edit of the shop file can name (shop.h). */
static bool is_key(const char *name)
{
    size_t length = strspn(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_");
    return length > 0 && name[length] == '\0' && length < TU_NAME_SIZE;
}

static tu_status check_place(const tu_task_template_request *request, tu_error *error)
{
    static const char *const names[] = {"{touches.x}", "{touches.y}", "{touches.z}"};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        bool stated = !isnan(request->shown_mm[axis]);
        if (!request->text && !stated)
            return tu_fail(error, TU_USAGE, names[axis],
                           "is missing: give the X, Y and Z that the controller showed with the "
                           "line, or a {template}");
    }
    return TU_OK;
}

static tu_status check(const tu_task_template_request *request, tu_error *error)
{
    if (request->save && !request->shop)
        return tu_fail(error, TU_USAGE, "{save}", "writes into the shop file: give {shop}");
    if (request->save && strcmp(request->shop, "-") == 0)
        return tu_fail(error, TU_USAGE, "{save}",
                       "can't write into standard input; give {shop} a file");
    if (request->save && !is_key(request->save))
        return tu_fail(error, TU_USAGE, "{save}",
                       "a template's name is made of letters a to z, digits and _, at most %d, "
                       "found \"%s\"",
                       TU_NAME_SIZE - 1, request->save);
    if (!request->line_count && request->shop && strcmp(request->shop, "-") == 0)
        return tu_fail(error, TU_USAGE, "{shop}",
                       "standard input can't be both the shop file and the lines; give {line}");
    return check_place(request, error);
}

/* --- The work --- */

static tu_status find_template(tu_template_run *run, tu_error *error)
{
    const tu_task_template_request *request = run->request;
    tu_status status = request->text
                           ? tu_template_parse(request->text, &run->found, error)
                           : tu_template_work_out(run->lines.line[0].text, request->shown_mm,
                                                  request->unit, &run->found, error);
    if (status)
        tu_fail_at(error, request->text ? "{template}" : "{line}");
    if (request->typed.stated) {
        run->found.unit_stated = true;
        run->found.unit = request->unit;
    }
    return status;
}

/* A template that comes first in the file takes the lines away from a new one. */
static void warn_of_earlier(tu_template_run *run, tu_decode_setup setup)
{
    size_t count;
    const tu_template *templates = tu_shop_templates(run->shop, &count);
    for (size_t i = 0; i < count; i++) {
        const char *name = tu_shop_template_name_at(run->shop, i);
        tu_template_lines first = {.count = 1};
        first.line[0].text = run->lines.line[0].text;
        setup.templates = &templates[i];
        tu_template_lines_read(&first, &setup);
        if (first.line[0].read && strcmp(templates[i].text, run->found.text) != 0)
            tu_warn(&run->warnings,
                    "the template \"%s\" of %s reads the line already, and comes first", name,
                    run->request->shop);
    }
}

static tu_status try_lines(tu_template_run *run, tu_error *error)
{
    tu_decode_setup setup = tu_decode_setup_start();
    setup.templates = &run->found;
    setup.template_count = 1;
    setup.unit = run->request->unit;
    if (run->shop)
        setup.machine = tu_shop_machine(run->shop);
    tu_template_lines_read(&run->lines, &setup);
    if (!run->lines.line[0].read)
        return tu_fail(error, TU_DATA_SYNTAX, "{line}", "the first line is not read: %s",
                       run->lines.line[0].decoded.reason);
    if (run->request->save)
        warn_of_earlier(run, setup);
    return TU_OK;
}

static tu_status read_files(tu_template_run *run, tu_error *error)
{
    const tu_task_template_request *request = run->request;
    tu_status status = TU_OK;
    if (request->shop)
        status = tu_shop_read(request->shop, &run->shop, error);
    if (!status && run->shop)
        status =
            tu_typed_unit_check(&request->typed, request->unit, run->shop, request->shop, error);
    return status ? status : tu_template_lines_take(&run->lines, request, error);
}

static void tell(tu_template_run *run, tu_task_template_story *story)
{
    story->found = &run->found;
    story->line = run->lines.line;
    story->line_count = run->lines.count;
    story->shop_unit = run->shop ? tu_shop_unit(run->shop) : TU_UNIT_MM;
    story->warnings = &run->warnings;
}

tu_status tu_task_template(const tu_task_template_request *request, tu_task_template_story *story,
                           tu_error *error)
{
    *story = (tu_task_template_story){0};
    tu_status status = check(request, error);
    if (status)
        return status;
    tu_template_run *run = story->run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    run->request = request;
    status = read_files(run, error);
    if (!status)
        status = find_template(run, error);
    if (!status)
        status = try_lines(run, error);
    if (!status && request->save)
        status = tu_template_save(run->shop, request->shop, request->save, &run->found, error);
    tell(run, story);
    return status;
}

void tu_task_template_end(tu_task_template_story *story)
{
    if (story->run) {
        tu_template_lines_destroy(&story->run->lines);
        tu_shop_destroy(story->run->shop);
    }
    free(story->run);
    *story = (tu_task_template_story){0};
}

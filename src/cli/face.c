/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * face.c - fields of the library's messages, as options.
 */
#include "cli/face.h"

static const tu_field_word words[] = {
    {"active", "--active"},
    {"area", "--area"},
    {"back_off", "--back-off"},
    {"bed_map", "--bed-map"},
    {"block_x", "--block-x"},
    {"block_y", "--block-y"},
    {"both_sides", "--both-sides"},
    {"by", "--by"},
    {"clearance", "--clearance"},
    {"columns", "--columns"},
    {"cutter", "--cutter"},
    {"depth", "--depth"},
    {"depth_of_cut", "--depth-of-cut"},
    {"feared_angle", "--feared-angle"},
    {"feeds", "--feeds"},
    {"height", "--height"},
    {"job", "--job"},
    {"json", "--json"},
    {"keep_out", "--keep-out"},
    {"log", "--log"},
    {"measure", "--measure"},
    {"plate", "--plate"},
    {"port", "--port"},
    {"press", "--press"},
    {"re_touch", "--re-touch"},
    {"repeats", "--repeats"},
    {"rows", "--rows"},
    {"search", "--search"},
    {"seat", "--seat"},
    {"series_name", "--series"},
    {"set", "--set"},
    {"skew", "--skew"},
    {"skew_from", "--skew-from"},
    {"slot", "--slot"},
    {"slot_x", "--slot-x"},
    {"slot_y", "--slot-y"},
    {"step", "--step"},
    {"stock_thickness", "--stock-thickness"},
    {"touches", "--touches"},
    {"touches.x", "--x"},
    {"touches.y", "--y"},
    {"touches.z", "--z"},
    {"touches_axis", "--axis"},
    {"traverse", "--traverse"},
    {"trust_cutters", "--trust-cutters"},
    {"turned_within", "--turned-within"},
    {"unit", "--unit"},
    {"variation", "--variation"},
    {"wall", "--wall"},
    {"warm_up", "--warm-up"},
    {"window", "--window"},
    {"zero.log", "trueup zero --log"},
    {"zeroed_at", "--zeroed-at"},
};

const tu_face tu_cli_face = {words, sizeof words / sizeof *words, NULL};

void tu_face_say_error(const tu_face *face, tu_error *error)
{
    tu_face_say(face, error->where, error->where, sizeof error->where);
    tu_face_say(face, error->message, error->message, sizeof error->message);
}

void tu_face_say_warnings(const tu_face *face, tu_warnings *warnings)
{
    for (size_t i = 0; i < warnings->count; i++)
        tu_face_say(face, warnings->text[i], warnings->text[i], sizeof warnings->text[i]);
}

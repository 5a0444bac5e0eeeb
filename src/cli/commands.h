// The commands, one source file each; the table in commands.cpp describes them.
#pragma once

#include <vector>

#include "cli/command.h"
#include "photo/fringes.h"

namespace cli {

std::vector<Option> new_options();
int carry_out_new(const Given& given, const Console& console);

std::vector<Option> check_options();
int carry_out_check(const Given& given, const Console& console);

std::vector<Option> trace_options();
int carry_out_trace(const Given& given, const Console& console);

std::vector<Option> preset_options();
int carry_out_preset(const Given& given, const Console& console);

std::vector<Option> align_options();
int carry_out_align(const Given& given, const Console& console);

std::vector<Option> practice_options();
int carry_out_practice(const Given& given, const Console& console);
std::vector<Option> marks_options();
int carry_out_marks(const Given& given, const Console& console);

std::vector<Option> aims_options();
int carry_out_aims(const Given& given, const Console& console);
std::vector<Option> rounds_options();
int carry_out_rounds(const Given& given, const Console& console);

std::vector<Option> budget_options();
int carry_out_budget(const Given& given, const Console& console);

std::vector<Option> form_options();
int carry_out_form(const Given& given, const Console& console);

std::vector<Option> optimise_options();
int carry_out_optimise(const Given& given, const Console& console);

std::vector<Option> spots_options();
int carry_out_spots(const Given& given, const Console& console);

/// The part of "spots" that reads a look back.
std::vector<Option> look_back_options();
int carry_out_look_back(const Given& given, const Console& console);
void refuse_look_back_options(const Given& given, Collected& collected);

/// The screen that --screen-mm gives.
std::optional<photo::Screen> screen_of(const Given& given, Collected& collected);

std::vector<Option> board_options();
int carry_out_board(const Given& given, const Console& console);

}  // namespace cli

// The commands, one source file each; the table in commands.cpp describes them.
#pragma once

#include <vector>

#include "cli/command.h"

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

std::vector<Option> board_options();
int carry_out_board(const Given& given, const Console& console);

}  // namespace cli

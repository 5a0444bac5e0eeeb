// facetwright check: what is wrong or doubtful about dish files.
#include "cli/commands.h"
#include "tasks/check_task.h"

namespace cli {
namespace {

tasks::CheckReply check_file(const Console& console, const std::string& path) {
  const auto read = read_dish_file(console, path);
  if (!read) return tasks::unreadable(path, read.problems());
  const auto checked =
      tasks::run(read.value().dish, tasks::CheckRequest{}, progress_of(console, path));
  end_progress(console);
  tasks::CheckReply reply = checked ? checked.value() : tasks::unreadable(path, checked.problems());
  reply.file = path;
  reply.notes = read.value().notes;
  return reply;
}

std::string text_of(const std::vector<tasks::CheckReply>& replies, Form form) {
  if (form == Form::json) return tasks::json_text(replies);
  return form == Form::csv ? tasks::csv_text(replies) : tasks::report_text(replies);
}

}  // namespace

std::vector<Option> check_options() { return {json_option(), csv_option(), out_option()}; }

int carry_out_check(const Given& given, const Console& console) {
  const auto form = form_of(given);
  if (!form) return report(console, form.problems());
  std::vector<tasks::CheckReply> replies;
  base::Problems errors;
  for (const std::string& path : given.operands) {
    replies.push_back(check_file(console, path));
    for (const dish::Finding& finding : replies.back().errors) {
      const bool names_file = finding.place.rfind(path, 0) == 0;
      errors.push_back(
          {names_file ? finding.place : path + ", " + finding.place, finding.sentence, ""});
    }
  }
  // The findings are this command's result, so they are handed over also when some are errors.
  const int delivered = deliver(console, given, text_of(replies, form.value()));
  if (errors.empty() || delivered != k_done) return delivered;
  return report(console, errors);
}

}  // namespace cli

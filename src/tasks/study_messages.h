// Budget, form and optimise as messages between the page and its workers: the request for
// tasks::run, and the reply taken apart again.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "tasks/budget_task.h"
#include "tasks/form_task.h"
#include "tasks/optimise_task.h"

namespace tasks {

/// `dish_text` is the text of the dish's file.
std::string budget_request(std::string_view dish_text, const BudgetRequest& request);
std::string form_request(std::string_view dish_text, const FormRequest& request);
std::string optimise_request(std::string_view dish_text, const OptimiseRequest& request);

/// Problems: those the reply brings; a reply that is damaged. What the JSON does not hold (the
/// budget's whole trace, the surfaces of each choice) stays empty.
base::Result<BudgetReply> read_budget_reply(std::string_view reply);
base::Result<FormReply> read_form_reply(std::string_view reply);
base::Result<OptimiseReply> read_optimise_reply(std::string_view reply);

}  // namespace tasks

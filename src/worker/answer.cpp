// Runs a task and turns a fault into a sentence.
#include "worker/answer.h"

#include <exception>
#include <new>

#include "tasks/task.h"

namespace worker {

Answer answer(std::string_view request, const base::Progress& progress) {
  try {
    return {.ok = true, .bytes = tasks::run_to_text(request, progress)};
  } catch (const std::bad_alloc&) {
    return {.ok = false, .bytes = "There is not enough memory for this."};
  } catch (const std::exception& fault) {
    return {.ok = false, .bytes = std::string("Internal fault: ") + fault.what()};
  }
}

}  // namespace worker

// The table of commands.
#include "cli/commands.h"

#include <limits>

namespace cli {

// A table, however long.
// NOLINTNEXTLINE(readability-function-size)
const std::vector<Command>& commands() {
  constexpr std::size_t k_any_number = std::numeric_limits<std::size_t>::max();
  static const std::vector<Command> table{
      {"new", "Makes a dish file from layout options.", "", 0, 0,
       "Prints a whole dish file. What is not said has a default that fits the rest. The file "
       "lists\n"
       "every facet, so it can be edited by hand afterwards.",
       "new --layout rings --rings 3 --pitch-mm 250 --focal-length-m 2 --out hut.dish.json",
       new_options, carry_out_new},
      {"check", "Validates dish files; lists errors and doubts.", "FILE...", 1, k_any_number,
       "Errors (exit code 2) are messages; doubts are the result: shading, travel, slack springs,\n"
       "light beside the receiver and the like.",
       "check assets/demos/larch-refuge.dish.json", check_options, carry_out_check},
      {"trace", "Traces rays: spot, flux, watts, and where each watt goes.", "FILE", 1, 1,
       "Traces the dish as built under a sun that is tracked, or off by --sun-x-mrad and\n"
       "--sun-y-mrad. Same dish, settings and seed give the same bytes.",
       "trace assets/demos/larch-refuge.dish.json --rays 200000", trace_options, carry_out_trace},
      {"preset", "Tells the nominal caliper height of every adjuster.", "FILE", 1, 1,
       "The heights put every facet on its nominal tilt before it sees the sun.",
       "preset assets/demos/larch-refuge.dish.json", preset_options, carry_out_preset},
      {"align", "Turns spots, leans or heights into turns of each screw.", "FILE", 1, 1,
       "Right and up are as seen by someone who faces the board's lit side. Turns are counted\n"
       "clockwise as seen from the side the screw is turned from. The errors that all facets "
       "share\n"
       "are told apart, with their uncertainties.",
       "align assets/demos/larch-refuge.dish.json --spots assets/demos/larch-refuge-spots.csv",
       align_options, carry_out_align},
      {"practice", "Plays alignments on a dish with hidden errors.", "FILE", 1, 1,
       "Photos, names, checks and turns of whole sessions, with the errors of eyes and hands, so\n"
       "that it is known beforehand which way of telling spots apart suits this dish, how many\n"
       "photos it takes and what is left after each round.",
       "practice assets/demos/larch-refuge.dish.json --start-mrad 3 --trials 5", practice_options,
       carry_out_practice},
      {"marks", "Tells where each facet's spot should lie on a board.", "FILE", 1, 1,
       "For any light and board; with --html also as pages to print at true scale and to put on "
       "the\n"
       "board's lit side. A spot within its ring is better left alone.",
       "marks assets/demos/larch-refuge.dish.json --source lamp --lamp-mm 0,0,25000 --csv",
       marks_options, carry_out_marks},
      {"aims", "Aims the facets at a pattern of points, and writes the dish.", "FILE", 1, 1,
       "Spreads the spots so that the flux is not all in one place. The file that is printed has\n"
       "the new aims; what they do to the peak is told beside it.",
       "aims assets/demos/kiln-yard.dish.json --pattern disc --radius-mm 20 --spot-sigma-mm 15",
       aims_options, carry_out_aims},
      {"rounds", "Tells the log of rounds; merges two logs, takes a round back.", "FILE", 1, 1,
       "What each round expected and what came, how fast it converges, what stopping now and one\n"
       "round more would give, and which moves or labels contradict the log.",
       "rounds assets/demos/larch-refuge.dish.json", rounds_options, carry_out_rounds},
      {"budget", "Tells what each error costs, and what would pay most.", "FILE", 1, 1,
       "Makes one cause at a time perfect, and adds one at a time to the perfect dish, with the\n"
       "same random points throughout, so that even small differences stand out of the noise.",
       "budget assets/demos/larch-refuge.dish.json", budget_options, carry_out_budget},
      {"form", "Solves each facet's best surface; compares simpler choices.", "FILE", 1, 1,
       "Spot, watts, sag and number of moulds for flat facets, one sphere, one paraboloid, a few\n"
       "moulds, each its own sphere and each its own piece of a paraboloid.",
       "form assets/demos/orchard-dryer.dish.json", form_options, carry_out_form},
      {"optimise", "Searches better aims or sizes, and writes the better dish.", "FILE", 1, 1,
       "Aims are moved until the flux keeps a limit or is as flat as can be. Sizes are searched\n"
       "for most watts with the mean concentration that is wanted.",
       "optimise assets/demos/kiln-yard.dish.json --what aims", optimise_options,
       carry_out_optimise},
      {"board", "Prints the marks of a target board, for photos.", "", 0, 0,
       "An HTML page of A4 sheets to print at true scale: eight marks to glue to a matte white\n"
       "board, by which a photo of it is brought to scale. Each sheet has a rule to check it by.",
       "board --board-size-mm 430,430 --out board.html", board_options, carry_out_board},
      {"spots", "Finds the spots in a photo of the target board.", "PHOTO...", 1, 128,
       "The board carries the marks that \"board\" prints. Give a second photo, with all facets\n"
       "covered, as --reference: it takes the board's own unevenness out. Expose so that spots "
       "are\n"
       "at about a third of full scale. JPEG, PNG and binary grey or colour maps (PGM, PPM).\n"
       "With --film: frames of an edge that crosses the dish twice. With --look-back: eight "
       "photos\n"
       "of the dish itself, with the fringes of \"board --screen-mm\".",
       "spots assets/demos/larch-refuge-board.png --board-size-mm 430,430", spots_options,
       carry_out_spots},
  };
  return table;
}

}  // namespace cli

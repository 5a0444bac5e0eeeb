// Looks at the photo in several scales, matches figures to marks, and names what is wrong.
#include "photo/find_marks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <optional>

#include "photo/local_white.h"
#include "photo/mark_centre.h"
#include "photo/mark_match.h"

namespace photo {
namespace {

using base::Problem;
using base::Vec2;
using Codes = std::vector<std::uint8_t>;

constexpr double k_click_sigma_px = 2.0;
constexpr double k_click_reach_radii = 1.2;

/// Windows of 288, 80 and 704 pixels: white is right for marks of up to a third of them. The lower
/// percentages see marks on a board that is darker than what is around it.
constexpr WhiteScale k_scales[] = {{32, 4, 75}, {16, 2, 65}, {16, 2, 25}, {64, 5, 75}, {32, 4, 25}};

int code_at(const std::vector<std::size_t>& histogram, double share) {
  std::size_t total = 0;
  for (const std::size_t count : histogram) total += count;
  const auto below = static_cast<std::size_t>(share * static_cast<double>(total));
  std::size_t sum = 0;
  for (std::size_t code = 0; code < histogram.size(); ++code) {
    sum += histogram[code];
    if (sum > below) return static_cast<int>(code);
  }
  return static_cast<int>(histogram.size()) - 1;
}

/// What can be wrong with a photo as a whole.
struct Exposure {
  double saturated = 0.0;  ///< share of pixels
  int brightest = 0;       ///< code that one pixel in a hundred exceeds
  double sharpness = 1.0;  ///< contrast of strong edges across two pixels over that across twelve
};

/// Means of 2 x 4 pixels are compared, so that noise is not taken for edges. A blur with sigma 0.6
/// pixels gives about 0.9, with 2 pixels 0.4, with 3 pixels 0.28.
Exposure exposure_of(const Image& image, const Codes& codes) {
  constexpr int k_rows = 4;
  constexpr int k_far = 12;
  std::vector<std::size_t> levels(256);
  std::vector<std::size_t> near(2048);
  std::vector<std::size_t> far(2048);
  std::vector<int> sums(static_cast<std::size_t>(image.width));
  std::size_t saturated = 0;
  std::size_t seen = 0;
  for (int y = 0; y + k_rows <= image.height; y += k_rows) {
    const std::uint8_t* row = codes.data() + static_cast<std::size_t>(y) * image.width;
    for (int x = 0; x < image.width; ++x) {
      int& sum = sums[static_cast<std::size_t>(x)];
      sum = 0;
      for (int k = 0; k < k_rows; ++k) sum += row[x + k * image.width];
      ++levels[row[x]];
      ++seen;
      if (image.at(x, y) >= k_saturated_from) ++saturated;
    }
    const auto pair = [&sums](int x) {
      return sums[static_cast<std::size_t>(x)] + sums[static_cast<std::size_t>(x) + 1];
    };
    for (int x = 0; x + k_far + 1 < image.width; ++x) {
      ++near[static_cast<std::size_t>(std::abs(pair(x) - pair(x + 2)))];
      ++far[static_cast<std::size_t>(std::abs(pair(x) - pair(x + k_far)))];
    }
  }
  // An edge shows in three places near and in twelve far.
  const int across = code_at(far, 0.996);
  return {static_cast<double>(saturated) / static_cast<double>(std::max<std::size_t>(seen, 1)),
          code_at(levels, 0.99),
          across > 0 ? static_cast<double>(code_at(near, 0.999)) / across : 1.0};
}

Problem problem_of(const Image& image, const Codes& codes, std::size_t figures, int best,
                   const std::string& name) {
  const Exposure exposure = exposure_of(image, codes);
  if (exposure.saturated > 0.2) {
    return {name,
            fmt::format("overexposed, {:.0f} % at full scale, and the marks are not seen",
                        100.0 * exposure.saturated),
            "the brightest spots at about a third of full scale"};
  }
  if (exposure.brightest < 18) {
    return {name, "too dark, and the marks are not seen", "a longer exposure, or a lit board"};
  }
  if (exposure.sharpness < 0.3) {
    return {name, "blurred, and the marks are not seen",
            "focus on the board, held still, its marks at least 30 pixels wide"};
  }
  if (best > 0 || figures >= 2) {
    return {name,
            best > 0 ? fmt::format("only {} marks of the board", best)
                     : "figures like marks, but not as they stand on the board",
            "at least four of the eight marks, the top left or the top right among them"};
  }
  return {name, "no mark of the board", "a photo of the whole board with its eight printed marks"};
}

std::vector<Candidate> figures_in(const Image& image, const Codes& codes, const WhiteScale& scale) {
  return candidates_in(components_of(dark_pixels(codes, image.width, image.height, scale),
                                     image.width, image.height));
}

SeenMark seen_mark(const Image& image, const Board& board, std::size_t mark,
                   const Candidate& figure) {
  const MarkCentre centre = centre_of(image, figure);
  const double reduction = image.reduction;
  return {
      mark, centre.place * reduction, centre.sigma * reduction,
      centre.by_darkness ? radius_of_darkness_m(figure.kind, board.mark_m) : 0.5 * board.mark_m};
}

base::Problems check_clicks(const Image& image, const std::vector<ClickedMark>& clicked,
                            const std::string& name) {
  base::Problems problems;
  if (clicked.size() < 4) {
    problems.push_back(
        {name, fmt::format("{} marks pointed at", clicked.size()), "at least four, or none"});
  }
  std::vector<bool> taken(k_marks);
  for (const ClickedMark& click : clicked) {
    const Vec2 size = image.size_px();
    const Vec2& p = click.image_px;
    if (!(p.x >= 0.0 && p.y >= 0.0 && p.x <= size.x && p.y <= size.y)) {
      problems.push_back(
          {name, fmt::format("a mark at {}, {} px", p.x, p.y), "places inside the photo"});
    }
    if (click.mark >= k_marks || taken[click.mark]) {
      problems.push_back({name, "a mark pointed at twice", "each of the eight at most once"});
      break;
    }
    taken[click.mark] = true;
  }
  return problems;
}

SeenMarks refined(const Image& image, const Board& board, const Codes& codes,
                  const std::vector<ClickedMark>& clicked) {
  std::vector<Candidate> figures;
  for (const WhiteScale& scale : k_scales) merge(figures, figures_in(image, codes, scale));
  const auto marks = marks_of(board);
  SeenMarks seen;
  for (const ClickedMark& click : clicked) {
    const Vec2 place = click.image_px / static_cast<double>(image.reduction);
    const Candidate* nearest = nullptr;
    double least = k_click_reach_radii;
    for (const Candidate& figure : figures) {
      const double off = in_radii(figure, place - figure.centre);
      if (off >= least) continue;
      least = off;
      nearest = &figure;
    }
    if (nearest != nullptr) {
      seen.marks.push_back(seen_mark(image, board, click.mark, *nearest));
      continue;
    }
    seen.marks.push_back({click.mark, click.image_px, k_click_sigma_px * image.reduction, 0.0});
    seen.notes.push_back(
        fmt::format("the mark {} is taken where it was pointed at: no figure was found there",
                    marks[click.mark].name));
  }
  return seen;
}

}  // namespace

base::Result<SeenMarks> find_marks(const Image& image, const Board& board, const std::string& name,
                                   const std::vector<ClickedMark>& clicked) {
  const Codes codes = root_code(image);
  SeenMarks seen;
  if (!clicked.empty()) {
    if (base::Problems problems = check_clicks(image, clicked, name); !problems.empty()) {
      return problems;
    }
    seen = refined(image, board, codes, clicked);
  } else {
    std::vector<Candidate> figures;
    std::optional<MarkMatch> match;
    for (const WhiteScale& scale : k_scales) {
      merge(figures, figures_in(image, codes, scale));
      match = match_marks(figures, board);
      if (match && match->found == static_cast<int>(k_marks)) break;
    }
    if (!match) return problem_of(image, codes, figures.size(), 0, name);
    if (match->mirrored) {
      return Problem{name, "mirrored",
                     "a photo that no app or mirror has turned over, of the board's printed side"};
    }
    for (std::size_t mark = 0; mark < k_marks; ++mark) {
      if (match->candidate[mark] < 0) continue;
      const auto figure = static_cast<std::size_t>(match->candidate[mark]);
      seen.marks.push_back(seen_mark(image, board, mark, figures[figure]));
    }
    if (match->found < static_cast<int>(k_marks)) {
      seen.notes.push_back(fmt::format("{} of the {} marks were found", match->found, k_marks));
    }
  }
  std::sort(seen.marks.begin(), seen.marks.end(),
            [](const SeenMark& a, const SeenMark& b) { return a.mark < b.mark; });
  return seen;
}

}  // namespace photo

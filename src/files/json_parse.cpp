// JSON text to the tree of json_value.h: the parser is a library's, the line counting, the limits
// and the words of the messages are ours.
#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/check.h"
#include "files/json_value.h"
#include "files/plain_text.h"

namespace files {
namespace {

/// How far the parser has read.
struct Tally {
  int newlines = 0;
  char last = '\0';
  /// Line of the character read last: newlines count for the lines after them.
  [[nodiscard]] int line() const { return 1 + newlines - (last == '\n' ? 1 : 0); }
};

/// Walks bytes and keeps the tally.
class CountingIterator {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  CountingIterator(const char* at, Tally* tally) : at_(at), tally_(tally) {}
  reference operator*() const { return *at_; }
  CountingIterator& operator++() {
    tally_->last = *at_;
    if (*at_ == '\n') ++tally_->newlines;
    ++at_;
    return *this;
  }
  CountingIterator operator++(int) {
    CountingIterator before = *this;
    ++*this;
    return before;
  }
  [[maybe_unused]] friend bool operator==(const CountingIterator& a, const CountingIterator& b) {
    return a.at_ == b.at_;
  }
  friend bool operator!=(const CountingIterator& a, const CountingIterator& b) {
    return a.at_ != b.at_;
  }

 private:
  const char* at_;
  Tally* tally_;
};

/// What the library reports when the text is no JSON.
struct SyntaxError {
  std::size_t read = 0;  ///< bytes read, the offending one included
  std::string token;
  std::string message;
};

/// Receives the parser's events and builds the tree; returning false ends the parse.
class TreeBuilder {
 public:
  using Number = nlohmann::json;

  TreeBuilder(const Tally& tally, std::string_view file_name)
      : tally_(tally), file_name_(file_name) {}

  // Names and types are the library's.
  bool null() { return add({.kind = JsonValue::Kind::null}); }
  bool boolean(bool truth) { return add({.kind = JsonValue::Kind::boolean, .truth = truth}); }
  bool number_integer(Number::number_integer_t value) { return add_number(std::to_string(value)); }
  bool number_unsigned(Number::number_unsigned_t value) {
    return add_number(std::to_string(value));
  }
  bool number_float(Number::number_float_t, const std::string& text) { return add_number(text); }
  bool string(std::string& text) {
    return add({.kind = JsonValue::Kind::string, .text = std::move(text)});
  }
  bool binary(Number::binary_t&) { return false; }
  bool start_object(std::size_t) { return open(JsonValue::Kind::object); }
  bool start_array(std::size_t) { return open(JsonValue::Kind::array); }
  bool key(std::string& key) {
    key_ = std::move(key);
    return true;
  }
  bool end_object() { return has_distinct_keys(open_.back()) && close(); }
  bool end_array() { return close(); }
  bool parse_error(std::size_t read, const std::string& token,
                   const nlohmann::detail::exception& error) {
    syntax_error = SyntaxError{.read = read, .token = token, .message = error.what()};
    return false;
  }

  JsonValue root;
  std::optional<SyntaxError> syntax_error;
  base::Problems problems;

 private:
  [[nodiscard]] std::string place(int line) const {
    return fmt::format("{}, line {}", file_name_, line);
  }

  bool refuse(int line, std::string value, std::string expected) {
    problems.push_back({place(line), std::move(value), std::move(expected)});
    return false;
  }

  bool add(JsonValue value) {
    value.line = tally_.line();
    if (++count_ > k_json_value_cap) {
      return refuse(value.line, "more than 2 million values", "a file of ordinary size");
    }
    if (open_.empty()) {
      root = std::move(value);
      return true;
    }
    if (open_.back().kind == JsonValue::Kind::object) value.key = std::move(key_);
    open_.back().children.push_back(std::move(value));
    return true;
  }

  bool add_number(std::string text) {
    if (text.size() > 400) {
      return refuse(tally_.line(), shortened(text), "a number of at most 400 characters");
    }
    return add({.kind = JsonValue::Kind::number, .text = std::move(text)});
  }

  bool open(JsonValue::Kind kind) {
    if (open_.size() >= k_json_depth_cap) {
      return refuse(tally_.line(), fmt::format("brackets nested {} deep", open_.size() + 1),
                    fmt::format("at most {}", k_json_depth_cap));
    }
    JsonValue value{.kind = kind, .line = tally_.line()};
    if (!open_.empty() && open_.back().kind == JsonValue::Kind::object) value.key = std::move(key_);
    open_.push_back(std::move(value));
    return true;
  }

  bool close() {
    JsonValue value = std::move(open_.back());
    open_.pop_back();
    const int line = value.line;
    key_ = std::move(value.key);
    if (!add(std::move(value))) return false;
    JsonValue& kept = open_.empty() ? root : open_.back().children.back();
    kept.line = line;
    return true;
  }

  bool has_distinct_keys(const JsonValue& object) {
    std::vector<const JsonValue*> sorted;
    sorted.reserve(object.children.size());
    for (const JsonValue& child : object.children) sorted.push_back(&child);
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const JsonValue* a, const JsonValue* b) { return a->key < b->key; });
    const auto twice =
        std::adjacent_find(sorted.begin(), sorted.end(),
                           [](const JsonValue* a, const JsonValue* b) { return a->key == b->key; });
    if (twice == sorted.end()) return true;
    return refuse((*(twice + 1))->line,
                  fmt::format("the key {} for the second time", quoted_json((*twice)->key)),
                  fmt::format("each key once (the first is in line {})", (*twice)->line));
  }

  const Tally& tally_;
  std::string file_name_;
  std::vector<JsonValue> open_;
  std::string key_;
  std::size_t count_ = 0;
};

/// What would have been right, from the library's message. The first match counts.
std::string expected_words(const std::string& message) {
  using Entry = std::pair<const char*, const char*>;
  constexpr std::array<Entry, 14> k_words{{
      {"number overflow", "a number of ordinary size"},
      {"ill-formed UTF-8", "text in UTF-8"},
      {"missing closing quote", "a closing double quote"},
      {"control character", "no line break or control character inside quotes (write \\n)"},
      {"after backslash", "one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u after the backslash"},
      {"hex digits", "four hexadecimal digits after \\u"},
      {"surrogate", "a pair of \\u escapes that make one character"},
      {"invalid number", "a number such as 12.5, -3 or 2e-3"},
      {"; expected end of input", "nothing after the end of the outermost value"},
      {"parsing object key", "a key in double quotes"},
      {"parsing object separator", "a colon after the key"},
      {"parsing object -", "a comma or }"},
      {"parsing array -", "a comma or ]"},
      {"parsing value", "a value: a number, text in double quotes, true, false, [ or {"},
  }};
  const auto found = std::find_if(k_words.begin(), k_words.end(), [&](const Entry& entry) {
    return message.find(entry.first) != std::string::npos;
  });
  return found == k_words.end() ? "JSON" : found->second;
}

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

bool ends_word(char c) {
  return static_cast<unsigned char>(c) <= 0x20 || std::string_view(",:[]{}").find(c) < 6;
}

/// Length of the token the library did not expect there. Its own record of a token is only whole
/// for texts and numbers.
std::size_t length_of_unexpected(const SyntaxError& error) {
  const auto says = [&](const char* words) {
    return error.message.find(words) != std::string::npos;
  };
  if (says("unexpected string literal") || says("unexpected number literal")) {
    return error.token.size();
  }
  if (says("unexpected true literal") || says("unexpected null literal")) return 4;
  return says("unexpected false literal") ? 5 : 1;
}

/// "my.json, line 3, column 5" of the byte at `at`.
std::string place_of(std::string_view bytes, std::size_t at, std::string_view file_name) {
  const std::string_view before = bytes.substr(0, at);
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const std::size_t line_start = before.rfind('\n') + 1;  // npos + 1 is 0
  const std::size_t column = 1 + count_characters(before.substr(line_start));
  return fmt::format("{}, line {}, column {}", file_name, line, column);
}

/// The word at `at`, for a message.
std::string word_at(std::string_view bytes, std::size_t at) {
  if (at >= bytes.size()) return "the file ends here";
  if (bytes[at] == '\n' || bytes[at] == '\r') return "the line ends here";
  const std::string_view rest = bytes.substr(at);
  const auto end = std::find_if(rest.begin(), rest.end(), ends_word);
  std::string_view word = rest.substr(0, static_cast<std::size_t>(end - rest.begin()));
  if (word.empty()) word = rest.substr(0, 1);
  const bool is_readable = is_utf8(word) && static_cast<unsigned char>(word[0]) > ' ';
  return is_readable ? shortened(word) : "a character that cannot be shown";
}

/// The problem with line and column of the character or word that does not fit.
base::Problem to_problem(const SyntaxError& error, std::string_view bytes,
                         std::string_view file_name) {
  std::size_t at = std::min(error.read - std::min<std::size_t>(error.read, 1), bytes.size());
  const bool misplaced = error.message.find("unexpected") != std::string::npos;
  // A word such as "facet" or "tru" breaks off in the middle; a whole token in the wrong place was
  // read to its end. Both are shown from their beginning.
  if (error.message.find("invalid literal") != std::string::npos) {
    while (at > 0 && at < bytes.size() && is_letter(bytes[at - 1])) --at;
  }
  if (misplaced && at < bytes.size()) at = error.read - length_of_unexpected(error);
  const std::string value = word_at(bytes, at);
  std::string expected = expected_words(error.message);
  for (const char* name : {"NaN", "nan", "-nan", "Infinity", "-Infinity", "inf", "-inf"}) {
    if (value == name) expected = "a finite number";
  }
  return {place_of(bytes, at, file_name), value, expected};
}

}  // namespace

base::Result<JsonValue> parse_json(std::string_view bytes, std::string_view file_name) {
  bytes = without_mark(bytes);
  // The library takes a NUL for the end of the text and would not look at what follows.
  const std::size_t nul = bytes.find('\0');
  if (nul != std::string_view::npos) {
    return base::Problem{place_of(bytes, nul, file_name), "a NUL byte", "text in UTF-8"};
  }
  Tally tally;
  TreeBuilder builder(tally, file_name);
  const CountingIterator begin(bytes.data(), &tally);
  const CountingIterator end(bytes.data() + bytes.size(), &tally);
  const bool parsed = nlohmann::json::sax_parse(begin, end, &builder);
  if (!builder.problems.empty()) return builder.problems;
  if (builder.syntax_error) return to_problem(*builder.syntax_error, bytes, file_name);
  CHECK(parsed, "a parse that fails names its problem");
  return std::move(builder.root);
}

}  // namespace files

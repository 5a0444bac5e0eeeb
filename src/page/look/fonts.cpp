// Bakes the embedded typeface at the device's resolution.
#include "page/look/fonts.h"

#include <imgui.h>

#include <array>
#include <string_view>

#include "embedded/font_files.h"

namespace look {
namespace {

// ImGui takes only what the subset holds, so the range may be generous.
constexpr ImWchar k_all[] = {0x0020, 0x2FFF, 0};
constexpr ImWchar k_giant[] = {0x0020, 0x007E, 0x00B0, 0x00BF, 0x2012, 0x2026, 0x2044,
                               0x2044, 0x2150, 0x215E, 0x2190, 0x2193, 0x21BA, 0x21BB,
                               0x2212, 0x2212, 0x25A0, 0x25CF, 0x2713, 0x2717, 0};

std::array<ImFont*, 4>& fonts() {
  static std::array<ImFont*, 4> baked{};
  return baked;
}

ImFont* add(std::string_view bytes, float size_px, float ratio, const ImWchar* range) {
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;
  // A sharp pixel grid below 1.5 wants one more sample across; above it the grid is finer than the
  // eye.
  config.OversampleH = ratio < 1.5F ? 3 : 1;
  config.OversampleV = 1;
  return ImGui::GetIO().Fonts->AddFontFromMemoryTTF(const_cast<char*>(bytes.data()),
                                                    static_cast<int>(bytes.size()), size_px * ratio,
                                                    &config, range);
}

}  // namespace

void bake_fonts(float ratio) {
  ImGuiIO& io = ImGui::GetIO();
  io.Fonts->Clear();
  io.Fonts->Flags |= ImFontAtlasFlags_NoPowerOfTwoHeight | ImFontAtlasFlags_NoMouseCursors;
  // In the order in which the build embeds them: regular, bold.
  const auto files = embedded::font_files();
  const std::string_view regular = files[0].bytes;
  const std::string_view bold = files[1].bytes;
  // Body comes first: it is ImGui's default.
  fonts()[1] = add(regular, k_body_px, ratio, k_all);
  fonts()[0] = add(regular, k_small_px, ratio, k_all);
  fonts()[2] = add(bold, k_large_px, ratio, k_all);
  fonts()[3] = add(bold, k_giant_px, ratio, k_giant);
  io.FontDefault = fonts()[1];
  io.FontGlobalScale = 1.0F / ratio;
  io.Fonts->Build();
}

ImFont* font(FontSize size) { return fonts()[static_cast<std::size_t>(size)]; }

Font::Font(FontSize size) { ImGui::PushFont(font(size)); }

Font::~Font() { ImGui::PopFont(); }

}  // namespace look

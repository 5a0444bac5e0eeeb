// The page's one typeface in its few sizes.
// A humanist sans with figures of one width, cut down to the characters of glyphs.txt when the page
// is built.
#pragma once

struct ImFont;

namespace look {

/// small: captions and units · body: everything · large: headings and main figures, bold · giant:
/// the on-site letters, bold, read from two metres (only letters, figures, fractions, arrows and
/// marks).
enum class FontSize { small, body, large, giant };

/// Line heights in CSS pixels, from ascender to descender; the letters' nominal size is 0.86 of it.
inline constexpr float k_small_px = 14.0F;
inline constexpr float k_body_px = 16.0F;
inline constexpr float k_large_px = 23.0F;
inline constexpr float k_giant_px = 76.0F;

/// Draws all sizes into ImGui's atlas at `ratio` framebuffer pixels a CSS pixel, replacing what was
/// there. The caller renews the atlas' texture. Fonts handed out before are dead.
void bake_fonts(float ratio);

/// The font of a size, for ImGui::PushFont. Never kept from one frame to the next.
[[nodiscard]] ImFont* font(FontSize size);

/// A size for one scope: `const look::Font heading(look::FontSize::large);`
class Font {
 public:
  explicit Font(FontSize size);
  ~Font();
  Font(const Font&) = delete;
  Font& operator=(const Font&) = delete;
};

}  // namespace look

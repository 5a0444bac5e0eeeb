// The page's two coats: lamp, for indoors and evening, and noon, for a screen in full sun.
// Panels name what a colour means, never a colour.
#pragma once

#include <imgui.h>

namespace look {

enum class ThemeName { lamp, noon };

/// Colours by meaning. Ink colours reach at least 4.5:1 on ground and panel, ink_faint 3:1.
struct Theme {
  ThemeName name = ThemeName::lamp;
  ImU32 ground = 0;       ///< behind everything
  ImU32 panel = 0;        ///< a column or strip that carries controls
  ImU32 raised = 0;       ///< what lies over the page: menus, tooltips, sheets
  ImU32 ink = 0;          ///< text and figures
  ImU32 ink_soft = 0;     ///< captions, units, secondary text
  ImU32 ink_faint = 0;    ///< what cannot be used now
  ImU32 rule = 0;         ///< thin lines between things
  ImU32 field = 0;        ///< where something can be entered
  ImU32 copper = 0;       ///< what acts: buttons, the chosen, the grabbed
  ImU32 copper_soft = 0;  ///< its quiet ground
  ImU32 on_copper = 0;    ///< text upon copper
  ImU32 cool = 0;         ///< what informs: links to causes, measured values, hints
  ImU32 cool_soft = 0;    ///< its quiet ground
  ImU32 danger = 0;       ///< danger to people or hardware, and nothing else
  ImU32 danger_soft = 0;  ///< its quiet ground
  ImU32 doubt = 0;        ///< warnings short of danger
  ImU32 ok = 0;           ///< done, within limits
  ImU32 sky = 0;          ///< the yard's upper background
  ImU32 earth = 0;        ///< the yard's lower background
  ImU32 shade = 0;        ///< shadow and dimming behind a sheet
};

/// Makes a theme the current one: every colour and measure of ImGui's style follows.
void apply(ThemeName name);

/// The current theme.
[[nodiscard]] const Theme& theme();

/// The theme of a name, without applying it.
[[nodiscard]] Theme theme_of(ThemeName name);

/// `colour` with its opacity replaced, 0..1.
[[nodiscard]] ImU32 faded(ImU32 colour, float opacity);

/// `share` of the way from one colour to another, in gamma-encoded sRGB.
[[nodiscard]] ImU32 mixed(ImU32 from, ImU32 to, float share);

/// Contrast of two opaque colours by WCAG 2.1 (relative luminance, 1..21).
[[nodiscard]] double contrast(ImU32 one, ImU32 other);

}  // namespace look

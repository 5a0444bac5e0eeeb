// Implements the item hooks that ImGui calls when it is compiled with IMGUI_ENABLE_TEST_ENGINE.
// They cost nothing while TestEngineHookItems is off.
#include "page/platform/item_table.h"

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_internal.h>

#include <cstddef>
#include <iterator>
#include <unordered_map>
#include <vector>

namespace {

struct Item {
  ImGuiID id = 0;
  ImRect box;
  ImRect clip;
  std::string window;
  std::string label;
  int flags = 0;
};

struct Table {
  std::vector<Item> items;
  std::unordered_map<ImGuiID, std::size_t> place_of;  // looked up only, never walked
  int frame = -1;
};

Table& table() {
  static Table kept;
  return kept;
}

void begin_frame_if_new(const ImGuiContext& context) {
  if (context.FrameCount == table().frame) return;
  table().frame = context.FrameCount;
  table().items.clear();
  table().place_of.clear();
}

void add_item(const ImGuiContext& context, ImGuiID id, const ImRect& box, std::string label) {
  begin_frame_if_new(context);
  const ImGuiWindow* window = context.CurrentWindow;
  table().place_of[id] = table().items.size();
  table().items.push_back({id, box, window->ClipRect, window->Name, std::move(label), 0});
}

std::string in_quotes(const std::string& text) {
  std::string out = "\"";
  for (const char letter : text) {
    if (letter == '"' || letter == '\\') out += '\\';
    if (static_cast<unsigned char>(letter) >= 0x20) out += letter;
  }
  return out + '"';
}

}  // namespace

// The names of these four functions are ImGui's.
// NOLINTBEGIN(readability-identifier-naming)
void ImGuiTestEngineHook_ItemAdd(ImGuiContext* context, ImGuiID id, const ImRect& box,
                                 const ImGuiLastItemData*) {
  if (id != 0) add_item(*context, id, box, "");
}

void ImGuiTestEngineHook_ItemInfo(ImGuiContext*, ImGuiID id, const char* label,
                                  ImGuiItemStatusFlags flags) {
  const auto place = table().place_of.find(id);
  if (place == table().place_of.end()) return;
  table().items[place->second].label = label;
  table().items[place->second].flags = flags;
}

void ImGuiTestEngineHook_Log(ImGuiContext*, const char*, ...) {}

const char* ImGuiTestEngine_FindItemDebugLabel(ImGuiContext*, ImGuiID) { return nullptr; }
// NOLINTEND(readability-identifier-naming)

namespace platform {

void watch_items(bool on) { ImGui::GetCurrentContext()->TestEngineHookItems = on; }

std::string item_table() {
  std::string out = "[";
  for (const Item& item : table().items) {
    ImRect seen = item.box;
    seen.ClipWith(item.clip);
    const bool visible = seen.GetWidth() > 0.0F && seen.GetHeight() > 0.0F;
    fmt::format_to(std::back_inserter(out),
                   "{}{{\"id\":{},\"rect\":[{:.1f},{:.1f},{:.1f},{:.1f}],\"visible\":{},\"flags\":{"
                   "},\"window\":{},"
                   "\"label\":{}}}",
                   out.size() > 1 ? "," : "", item.id, item.box.Min.x, item.box.Min.y,
                   item.box.GetWidth(), item.box.GetHeight(), visible, item.flags,
                   in_quotes(item.window), in_quotes(item.label));
  }
  return out + "]";
}

void note_item(const char* label, float x, float y, float width, float height) {
  ImGuiContext& context = *ImGui::GetCurrentContext();
  if (!context.TestEngineHookItems) return;
  const ImGuiID id = ImHashStr(label, 0, context.CurrentWindow->ID);
  add_item(context, id, ImRect(x, y, x + width, y + height), label);
}

}  // namespace platform

// Draws the page on demand: a frame follows input, a request or a timer, and nothing else.
// Works in CSS pixels; fonts are baked at their size times the device's pixel ratio.
#include "page/main.h"

#include <GLES3/gl3.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "page/app.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "page/platform/clipboard.h"
#include "page/platform/input.h"
#include "page/platform/jobs.h"
#include "page/platform/pacing.h"
#include "page/platform/window.h"

namespace page {
namespace {

constexpr float k_longest_step_s = 0.1F;  // after a rest, animations go on where they were
constexpr float k_shortest_step_s = 1e-4F;

struct Life {
  App* app = nullptr;
  double last_s = 0.0;
  float baked_ratio = 0.0F;
  bool context = false;
  long frames = 0;
};

Life& life() {
  static Life the_only_page;
  return the_only_page;
}

void bake_fonts(float ratio) {
  look::bake_fonts(ratio);
  ImGui_ImplOpenGL3_DestroyDeviceObjects();
  ImGui_ImplOpenGL3_CreateDeviceObjects();
  life().baked_ratio = ratio;
}

void prepare_io(double now_s) {
  ImGuiIO& io = ImGui::GetIO();
  const platform::Size size = platform::display_size();
  const float ratio = platform::device_pixel_ratio();
  io.DisplaySize = ImVec2(size.width, size.height);
  io.DisplayFramebufferScale = ImVec2(ratio, ratio);
  io.DeltaTime =
      std::clamp(static_cast<float>(now_s - life().last_s), k_shortest_step_s, k_longest_step_s);
  life().last_s = now_s;
  if (ratio != life().baked_ratio) bake_fonts(ratio);
}

void paint() {
  const ImGuiIO& io = ImGui::GetIO();
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  glViewport(0, 0, static_cast<int>(std::lround(io.DisplaySize.x * io.DisplayFramebufferScale.x)),
             static_cast<int>(std::lround(io.DisplaySize.y * io.DisplayFramebufferScale.y)));
  const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(look::theme().ground);
  glDisable(GL_SCISSOR_TEST);
  glClearColor(ground.x, ground.y, ground.z, 1.0F);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  draw_scene(*life().app);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

/// What ImGui itself waits for, which no event will announce: held buttons repeat, carets blink,
/// tooltips come late.
double imgui_wait_s() {
  const ImGuiContext& context = *ImGui::GetCurrentContext();
  if (context.InputEventsQueue.Size > 0 || ImGui::IsAnyMouseDown()) return 0.0;
  if (context.HoverItemDelayId != 0 &&
      context.HoverItemDelayTimer < context.Style.HoverDelayNormal + 0.05F)
    return 0.05;
  if (context.IO.WantTextInput) return 0.2;
  return -1.0;
}

bool settled() {
  return platform::frames_requested() == 0 &&
         ImGui::GetCurrentContext()->InputEventsQueue.Size == 0;
}

}  // namespace

void start() {
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  io.ConfigWindowsMoveFromTitleBarOnly = true;
  platform::install_input();
  platform::install_clipboard();
  ImGui_ImplOpenGL3_Init("#version 300 es");
  life().context = true;
  look::apply(look::ThemeName::lamp);
  bake_fonts(platform::device_pixel_ratio());
  life().app = make_app();
  platform::request_frames(3);
}

double draw(double now_s) {
  if (!life().context || life().app == nullptr) return -1.0;
  prepare_io(now_s);
  platform::begin_frame_pacing();
  ImGui_ImplOpenGL3_NewFrame();
  ImGui::NewFrame();
  frame(*life().app);
  ImGui::Render();
  paint();
  platform::after_frame_input();
  ++life().frames;
  return platform::next_frame_wait_s(now_s, imgui_wait_s());
}

void lose_context() {
  if (!life().context) return;
  life().context = false;
  ImGui_ImplOpenGL3_Shutdown();
  if (life().app != nullptr) context_lost(*life().app);
}

void restore_context() {
  if (life().context) return;
  ImGui_ImplOpenGL3_Init("#version 300 es");
  life().context = true;
  life().baked_ratio = 0.0F;
  if (life().app != nullptr) context_restored(*life().app);
  platform::request_frames(3);
}

const char* test_report() {
  static std::string report;
  const std::string state = life().app == nullptr ? "{}" : test_state(*life().app);
  report = fmt::format("{{\"settled\":{},\"frames\":{},\"jobs\":{},\"app\":{}}}", settled(),
                       life().frames, platform::jobs_open(), state);
  return report.c_str();
}

}  // namespace page

// Photographs of the board as messages between the page and its workers.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tasks/sent_photos.h"
#include "tasks/spots_task.h"

namespace tasks {

/// A photo's pixels with the marks that a person pointed at.
struct PhotoPixels : RgbaPixels {
  std::vector<photo::ClickedMark> clicked;
};

/// The request for tasks::run, the pixels behind it.
std::string spots_request(const std::vector<PhotoPixels>& photos, const photo::Board& board,
                          std::optional<std::size_t> reference, bool follows = false);

/// Problems: those the reply brings; a reply that is damaged. The marks come without their
/// uncertainty and the view without its map, which `photo::rectify` makes from them.
base::Result<SpotsReply> read_spots_reply(std::string_view reply);

}  // namespace tasks

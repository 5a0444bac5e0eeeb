// The parts of the dish file as JSON values, each written by a function of its own.
#pragma once

#include "dish/dish.h"
#include "files/json_writer.h"

namespace files {

JsonValue write_facet_type(const dish::FacetType& type, const UnknownByPlace& unknown);
JsonValue write_mount(const dish::Mount& mount, const UnknownByPlace& unknown);
JsonValue write_spring(const dish::Spring& spring, const UnknownByPlace& unknown);
JsonValue write_facet(const dish::Facet& facet, const UnknownByPlace& unknown);
JsonValue write_secondary(const dish::Secondary& secondary, const UnknownByPlace& unknown);
JsonValue write_receiver(const dish::Receiver& receiver, const UnknownByPlace& unknown);
JsonValue write_blocker(const dish::Blocker& blocker, const UnknownByPlace& unknown,
                        const std::string& place);
JsonValue write_round(const dish::Round& round, const UnknownByPlace& unknown,
                      const std::string& place);

/// Members of the sun, of a mirror's finish, and of form errors; nothing for what is as usual.
void add_sun_shape(ObjectWriter& sun, const dish::SunShape& shape);
void add_finish(ObjectWriter& object, double reflectance,
                const std::optional<dish::Coating>& coating, double cleanliness,
                const UnknownByPlace& unknown, const std::string& place);
void add_form_error(ObjectWriter& object, const dish::FormError& error,
                    const UnknownByPlace& unknown, const std::string& place);
void add_sag_map(ObjectWriter& object, const dish::SharedSagMap& map, const UnknownByPlace& unknown,
                 const std::string& place);

/// Chooses a function by a variant's alternative: std::visit(Either{...}, variant).
template <class... Functions>
struct Either : Functions... {
  using Functions::operator()...;
};
template <class... Functions>
Either(Functions...) -> Either<Functions...>;

}  // namespace files

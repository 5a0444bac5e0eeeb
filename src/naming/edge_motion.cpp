// Normal equations of a cubic with a prior.
#include "naming/edge_motion.h"

#include "base/vec.h"

namespace naming {

Eigen::Vector4d EdgeMotion::powers(double time) const {
  const double u = (time - scale.middle) / scale.half;
  return {1.0, u, u * u, u * u * u};
}

double EdgeMotion::leverage(double time) const {
  const Eigen::Vector4d row = powers(time);
  return row.dot(spread * row);
}

EdgeMotion fit_motion(const EdgeScale& scale, const std::vector<TimedPlace>& pairs) {
  EdgeMotion motion{.scale = scale};
  // Place and speed are left to the pairs; a trace keeps the matrix regular with few of them.
  Eigen::Matrix4d normal = 1e-9 * Eigen::Matrix4d::Identity();
  normal(2, 2) += base::square(scale.sigma_m / (k_usual_bend * scale.half_way_m));
  normal(3, 3) += base::square(scale.sigma_m / (k_usual_twist * scale.half_way_m));
  Eigen::Vector4d right = Eigen::Vector4d::Zero();
  for (const TimedPlace& pair : pairs) {
    const Eigen::Vector4d row = motion.powers(pair.time);
    normal += pair.weight * row * row.transpose();
    right += pair.weight * pair.place_m * row;
  }
  motion.spread = normal.inverse();
  motion.terms = normal.ldlt().solve(right);
  return motion;
}

}  // namespace naming

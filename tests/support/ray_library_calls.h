// The ray library's queries in one form: its versions 3 and 4 differ in how they are told that the
// rays of a query are neighbours.
#pragma once

#if __has_include(<embree4/rtcore.h>)
#include <embree4/rtcore.h>
#else
#include <embree3/rtcore.h>
#endif

namespace ray_library {

#if RTC_VERSION_MAJOR >= 4

inline RTCOccludedArguments neighbours_occluded() {
  RTCOccludedArguments how;
  rtcInitOccludedArguments(&how);
  how.flags = RTC_RAY_QUERY_FLAG_COHERENT;
  return how;
}

inline RTCIntersectArguments neighbours_intersect() {
  RTCIntersectArguments how;
  rtcInitIntersectArguments(&how);
  how.flags = RTC_RAY_QUERY_FLAG_COHERENT;
  return how;
}

inline void occluded(const int* valid, RTCScene scene, RTCRayHit8& packet) {
  auto how = neighbours_occluded();
  rtcOccluded8(valid, scene, &packet.ray, &how);
}
inline void occluded(const int* valid, RTCScene scene, RTCRayHit& packet) {
  auto how = neighbours_occluded();
  if (valid[0] != 0) rtcOccluded1(scene, &packet.ray, &how);
}
inline void intersect(const int* valid, RTCScene scene, RTCRayHit8& packet) {
  auto how = neighbours_intersect();
  rtcIntersect8(valid, scene, &packet, &how);
}
inline void intersect(const int* valid, RTCScene scene, RTCRayHit& packet) {
  auto how = neighbours_intersect();
  if (valid[0] != 0) rtcIntersect1(scene, &packet, &how);
}

#else

inline RTCIntersectContext neighbours() {
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
  return context;
}

inline void occluded(const int* valid, RTCScene scene, RTCRayHit8& packet) {
  auto context = neighbours();
  rtcOccluded8(valid, scene, &context, &packet.ray);
}
inline void occluded(const int* valid, RTCScene scene, RTCRayHit& packet) {
  auto context = neighbours();
  if (valid[0] != 0) rtcOccluded1(scene, &context, &packet.ray);
}
inline void intersect(const int* valid, RTCScene scene, RTCRayHit8& packet) {
  auto context = neighbours();
  rtcIntersect8(valid, scene, &context, &packet);
}
inline void intersect(const int* valid, RTCScene scene, RTCRayHit& packet) {
  auto context = neighbours();
  if (valid[0] != 0) rtcIntersect1(scene, &context, &packet);
}

#endif

}  // namespace ray_library

/** WGS84 ellipsoid: gravity at the equator, Somigliana's constant, first eccentricity squared (NIMA TR8350.2; constants typed from memory, values at 0°, 45°, 90° checked). */
const EQUATOR_M_PER_S2 = 9.7803253359;
const SOMIGLIANA = 0.00193185265241;
const ECCENTRICITY_SQUARED = 0.00669437999013;
/** Free-air gradient, 1/s². */
const PER_METRE = 3.086e-6;

/**
 * Gravity on the WGS84 ellipsoid, less the free-air gradient with height.
 *
 *   g = 9.7803253359 (1 + 0.00193185265241 s²) / sqrt(1 - 0.00669437999013 s²) - 3.086e-6 h,   s = sin(latitude)
 *
 * @returns m/s²: 9.780325 at 0°, 9.806198 at 45°, 9.832185 at 90°. Local anomalies (some 1e-4) are not in it.
 */
export function normalGravity(latitudeDeg: number, heightM: number): number {
  const s = Math.sin((latitudeDeg * Math.PI) / 180);
  const s2 = s * s;
  return (EQUATOR_M_PER_S2 * (1 + SOMIGLIANA * s2)) / Math.sqrt(1 - ECCENTRICITY_SQUARED * s2) - PER_METRE * heightM;
}

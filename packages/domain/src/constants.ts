/** Standard gravity, 3rd CGPM 1901; used where latitude is not given. */
export const STANDARD_GRAVITY_M_PER_S2 = 9.80665;

/** Speed of sound in dry air at 20 °C, m/s (textbook value, typed from memory). */
export const SPEED_OF_SOUND_M_PER_S = 343;

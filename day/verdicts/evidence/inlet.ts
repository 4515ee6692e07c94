/** Inlet pressure below this share less than usual: the inlet is blocked, and the turbine drives a wheel that has more to do [1]. @source our default */
export const STARVED = -0.015;

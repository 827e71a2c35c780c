/** Cautions that several weak points share, worded once. General workshop sense, no maker's instruction. */
export const COOLANT_HOT =
  'Coolant is under pressure and scalding when hot: let the engine cool before opening the system.'
export const EXHAUST_HOT =
  'Turbocharger and exhaust stay hot long after the engine is off: let them cool, wear gloves.'
export const PETROL_PRESSURE =
  'Petrol is under high pressure: relieve it, catch what runs out, no flame or spark, ventilate.'
export const DIESEL_PRESSURE =
  'Rail pressure can pierce skin: never open a line with the engine running, wait for it to bleed down.'
export const IGNITION_VOLTAGE =
  'Ignition voltage is dangerous: switch off and unplug the coils before touching them.'
export const BATTERY_OFF = 'Disconnect the battery first: this lead is live at all times.'
export const ENGINE_SUPPORT =
  'The engine must be supported before the mount comes off: check the lifting gear and its rating.'
export const RAISED = 'Work below a raised vehicle only on a rated lift or stands.'
export const NO_TURNING = 'Do not turn the engine over once the drive is off: valves and pistons can meet.'
export const MOVING_PARTS = 'Keep clear of belts and fan: the fan may start by itself.'
export const REGENERATION =
  'A regeneration makes the exhaust red hot: outdoors, away from anything that burns, and not under a hoist.'
export const AIR_BRAKES = 'Chock the wheels and empty the air tanks before opening an air line.'
export const AEROSOL = 'Cleaning agents burn and irritate: eye protection, ventilation, no ignition source.'

package model

import "slices"

// thermal is the table of the models of heat, powder, laser, sensors,
// electricity and safety functions.
var thermal = slices.Concat(lampModels, viewModels, bedModels, powderModels, plateModels, wallModels, timeModels, wireModels, laserModels, ptModels, thermocoupleModels, ntcModels, infraredModels, electricModels, safetyModels)

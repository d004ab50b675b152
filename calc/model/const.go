package model

// Physical constants, SI.
const (
	// stefanBoltzmann is σ in W/(m²·K⁴), exact to the digits given since the
	// redefinition of the SI. Source: CODATA 2018 (seen); follows from the
	// defining constants of the SI Brochure, 9th ed. (2019).
	stefanBoltzmann = 5.670374419e-8
	// secondRadiation is c₂ = h·c/k in m·K. Source: as above.
	secondRadiation = 0.01438776877
	// zeroCelsius is 0 °C in kelvins, exact. Source: SI Brochure, 9th ed., 2.3.1.
	zeroCelsius = 273.15
)

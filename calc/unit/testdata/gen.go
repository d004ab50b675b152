//go:build ignore

// Gen writes conversions.tsv: every pair of units within a family, converted
// by the Debian package units (its own database of definitions), which knows
// nothing of this program. It needs that package:
//
//	apt-get install units && go run gen.go > conversions.tsv
//
// -units and -file name another place for its program and its database. The
// prefixes quecto, ronto, ronna and quetta (2022) are not in version 2.22.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"log"
	"os/exec"
	"strings"
)

// families are units of one dimension: ours=theirs, or one word for both.
// Their radian is a plain number, so angles stay within their own families.
var families = []string{
	"m ym=yoctom zm=zeptom am=attom fm=femtom pm=picom nm=nanom µm=microm mm=millim cm=centim dm=decim dam=decam hm=hectom km=kilom Mm=megam Gm=gigam Tm=teram Pm=petam Em=exam Zm=zettam Ym=yottam",
	"mm in ft yd mil m",
	"m^2 mm^2 cm^2 in^2 ft^2 yd^2 ha=hectare km^2",
	"m^3 mm^3 cm^3 L=liter mL=milliliter µL=microliter in^3 ft^3 gal_US=gallon",
	"m^4 mm^4 cm^4 in^4",
	"s ms µs=microsecond ns min h=hour d=day",
	"kg g mg µg=microgram lb oz t=tonne",
	"N mN kN lbf ozf=ounce_force kgf MN kg*m/s^2=kg_m/s^2",
	"Pa hPa kPa MPa GPa N/mm^2 bar mbar=millibar psi=lbf/in^2 atm mmHg kgf/cm^2 lbf/ft^2",
	"J kJ MJ mJ Wh=W_hour kWh=kW_hour eV keV MeV cal_th Btu_IT=btu_IT N*m=N_m lbf*ft=lbf_ft lbf*in=lbf_in ozf*in=ounce_force_in",
	"W mW kW MW Btu_IT/h=btu_IT/hour cal_th/s J/min N*m/s=N_m/s lbf*ft/s=lbf_ft/s",
	"rad=radian mrad=milliradian °=degree turn=circle",
	"rad/s=radian/s rpm=circle/min °/s=degree/s turn/s=circle/s turn/h=circle/hour °/min=degree/min",
	"m/s mm/s mm/min m/min km/h=km/hour ft/s in/s ft/min",
	"m/s^2 mm/s^2 ft/s^2 in/s^2",
	"kg/m^3 g/cm^3 g/mL=g/milliliter kg/L=kg/liter lb/ft^3 lb/in^3 t/m^3=tonne/m^3",
	"kg/m g/m g/mm lb/ft oz/yd",
	"kg/s g/s kg/h=kg/hour g/min lb/h=lb/hour",
	"m^3/s L/min=liter/min L/h=liter/hour m^3/h=m^3/hour ft^3/min gal_US/min=gallon/min mm^3/s",
	"N/m N/mm kN/m lbf/in lbf/ft kgf/mm J/mm^2=J/mm^2",
	"Pa*s=Pa_s mPa*s=mPa_s P=poise cP=cpoise kg/(m*s)=kg/(m_s)",
	"m^2/s mm^2/s cm^2/s St=stokes cSt=cstokes ft^2/s",
	"W/m^2 kW/m^2 W/cm^2 W/mm^2 Btu_IT/(h*ft^2)=btu_IT/(hour_ft^2) cal_th/(cm^2*s)=cal_th/(cm^2_s)",
	"W/(m*K)=W/(m_K) mW/(m*K)=mW/(m_K) W/(cm*K)=W/(cm_K) kW/(m*K)=kW/(m_K)",
	"W/(m^2*K)=W/(m^2_K) W/(cm^2*K)=W/(cm^2_K) kW/(m^2*K)=kW/(m^2_K)",
	"J/(kg*K)=J/(kg_K) kJ/(kg*K)=kJ/(kg_K) J/(g*K)=J/(g_K) cal_th/(g*K)=cal_th/(g_K)",
	"J/kg kJ/kg J/g Btu_IT/lb=btu_IT/lb Wh/kg=W_hour/kg m^2/s^2",
	"J/m^3 J/mm^3 J/cm^3 kWh/L=kW_hour/liter",
	"K^-1=/K 1/K=/K µm/(m*K)=microm/(m_K) mm/(m*K)=mm/(m_K)",
	"K/W mK/W K/mW",
	"V mV kV µV=microvolt W/A",
	"A mA µA=microampere kA",
	"Ω=ohm mΩ=milliohm kΩ=kiloohm MΩ=megaohm V/A",
	"Ω*m=ohm_m Ω*mm^2/m=ohm_mm^2/m µΩ*cm=microohm_cm",
	"C mC Ah=A_hour mAh=mA_hour A*s=A_s",
	"F µF=microfarad nF pF",
	"H mH µH=microhenry",
	"S mS µS=microsiemens",
	"T mT Wb/m^2",
	"Wb mWb V*s=V_s",
	"Hz kHz MHz GHz s^-1=/s Bq kBq",
	"Gy mGy Sv=Sv mSv=mSv",
	"lm klm=kilolumen cd*sr=cd_sr",
	"lx klx=kilolux lm/cm^2",
	"mol mmol kmol",
	"kat mol/min",
	"kg*m^2=kg_m^2 g*cm^2=g_cm^2 lb*in^2=lb_in^2 kg*mm^2=kg_mm^2",
	"N*m^2=N_m^2 N*mm^2=N_mm^2 lbf*in^2=lbf_in^2",
	"W/(m^2*K^4)=W/(m^2_K^4) W/(cm^2*K^4)=W/(cm^2_K^4)",
	"K/min K/s K/h=K/hour mK/s",
	"V/K µV/K=microvolt/K mV/K",
	"%=percent ppm mm/m",
}

// points are temperatures in °C, °F and K.
var points = []string{"-273.15", "-40", "-17.5", "0", "20", "37", "68", "100", "170", "183.5", "300", "451", "1064.18"}

var program = flag.String("units", "units", "the program")
var file = flag.String("file", "", "its database")

func ask(have, want string) string {
	args := []string{"-t", "-d", "15"}
	if *file != "" {
		args = append(args, "-f", *file)
	}
	if strings.HasPrefix(want, "temp") {
		args = append(args, have, want)
	} else {
		args = append(args, "-1", have, want)
	}
	var out bytes.Buffer
	cmd := exec.Command(*program, args...)
	cmd.Stdout = &out
	if err := cmd.Run(); err != nil {
		log.Fatalf("%s in %s: %v: %s", have, want, err, out.String())
	}
	return strings.TrimSpace(out.String())
}

func main() {
	log.SetFlags(0)
	flag.Parse()
	const source = "Debian package units 2.22-2, definitions 3.15"
	fmt.Println("# written by gen.go: 1 from = value to; of °C, °F and K: number from = value to")
	fmt.Println("number\tfrom\tto\tvalue\tsource")
	for _, f := range families {
		words := strings.Fields(f)
		for i := range words {
			for j := i + 1; j < len(words); j++ {
				a, b := split(words[i]), split(words[j])
				fmt.Printf("1\t%s\t%s\t%s\t%s\n", a[0], b[0], ask(a[1], b[1]), source)
			}
		}
	}
	scales := [][2]string{{"°C", "tempC"}, {"°F", "tempF"}, {"K", "tempK"}}
	for _, p := range points {
		for _, a := range scales[:2] {
			for _, b := range scales {
				if a == b {
					continue
				}
				fmt.Printf("%s\t%s\t%s\t%s\t%s\n", p, a[0], b[0], ask(a[1]+"("+p+")", b[1]), source)
			}
		}
	}
}

// split gives our spelling and theirs, in which _ is a space between factors.
func split(word string) [2]string {
	ours, theirs, ok := strings.Cut(word, "=")
	if !ok {
		theirs = ours
	}
	if ok {
		theirs = strings.ReplaceAll(theirs, "_", " ")
		for _, name := range []string{"btu IT", "cal th"} {
			theirs = strings.ReplaceAll(theirs, name, strings.ReplaceAll(name, " ", "_"))
		}
	}
	return [2]string{ours, theirs}
}

package earth

import "strings"

// nullDatum is a datum whose degrees agree with WGS 84 degrees to about a metre.
type nullDatum struct {
	code  int      // EPSG code of its geographic system; 0 for none
	name  string   // of that system
	datum []string // names of the datum: EPSG's, its aliases, and ESRI's without D_
}

// nullDatums are the datums that EPSG relates to WGS 84 by a null transformation good to a metre,
// and three more that are fixed to an international frame of the year 2000 or later (China,
// Australia, Malaysia: our choice, since plates have moved less than a metre since then). The
// families of nullFamilies are not repeated here. [P] EPSG Geodetic Parameter Dataset.
var nullDatums = []nullDatum{
	{4176, "Australian Antarctic", []string{"Australian Antarctic Datum 1998", "AAD98", "Australian_Antarctic_1998"}},
	{5013, "PTRA08", []string{"Autonomous Regions of Portugal 2008", "PTRA08"}},
	{4762, "BDA2000", []string{"Bermuda 2000", "BDA2000"}},
	{5264, "DRUKREF 03", []string{"Bhutan National Geodetic Datum", "DRUKREF 03"}},
	{7798, "BGS2005", []string{"Bulgaria Geodetic System 2005", "BGS2005"}},
	{6135, "CIGD11", []string{"Cayman Islands Geodetic Datum 2011", "CIGD11"}},
	{4490, "China Geodetic Coordinate System 2000", []string{"China 2000"}},
	{4761, "HTRS96", []string{"Croatian Terrestrial Reference System", "HTRS96"}},
	{4755, "DGN95", []string{"Datum Geodesi Nasional 1995", "DGN95", "Indonesian Geodetic Datum 1995", "IGD95"}},
	{4180, "EST97", []string{"Estonia 1997", "EST97"}},
	{5593, "FEH2010", []string{"Fehmarnbelt Datum 2010", "FEH10"}},
	{5246, "GDBD2009", []string{"Geocentric Datum Brunei Darussalam 2009", "GDBD2009"}},
	{7844, "GDA2020", []string{"Geocentric Datum of Australia 2020", "GDA2020"}},
	{4737, "Korea 2000", []string{"Geocentric datum of Korea", "Korea 2000"}},
	{4742, "GDM2000", []string{"Geodetic Datum of Malaysia 2000", "GDM2000"}},
	{4747, "GR96", []string{"Greenland 1996", "GR96"}},
	{4148, "Hartebeesthoek94", []string{"Hartebeesthoek94", "Hartebeesthoek_1994"}},
	{8427, "Hong Kong Geodetic CS", []string{"Hong Kong Geodetic"}},
	{4667, "IKBD-92", []string{"Iraq-Kuwait Boundary Datum 1992", "IKBD-92", "Iraq_Kuwait_Boundary_1992"}},
	{3889, "IGRS", []string{"Iraqi Geospatial Reference System", "IGRS"}},
	{4173, "IRENET95", []string{"IRENET95"}},
	{4659, "ISN93", []string{"Islands Net 1993", "ISN93", "Islands_Network_1993"}},
	{5324, "ISN2004", []string{"Islands Net 2004", "ISN2004", "Islands_Network_2004"}},
	{8086, "ISN2016", []string{"Islands Net 2016", "ISN2016"}},
	{4670, "IGM95", []string{"Istituto Geografico Militaire 1995", "IGM95", "IGM_1995"}},
	{4758, "JAD2001", []string{"Jamaica 2001", "JAD2001"}},
	{4612, "JGD2000", []string{"Japanese Geodetic Datum 2000", "JGD2000"}},
	{6668, "JGD2011", []string{"Japanese Geodetic Datum 2011", "JGD2011"}},
	{9140, "KOSOVAREF01", []string{"Kosovo Reference System 2001", "KOSOVAREF12", "KOSOVAREF01", "KOSOVAREF01 (2012)"}},
	{7686, "Kyrg-06", []string{"Kyrgyzstan Geodetic Datum 2006", "Kyrg-06", "Kyrgyz_Republic_2006"}},
	{4661, "LKS92", []string{"Latvia 1992", "LKS92"}},
	{4669, "LKS94", []string{"Lithuania 1994 (ETRS89)", "LKS94 (ETRS89)", "Lithuania_1994"}},
	{8431, "Macao 2008", []string{"Macao Geodetic Datum 2008", "Macao 2008"}},
	{4686, "MAGNA-SIRGAS", []string{"Marco Geocentrico Nacional de Referencia", "MAGNA-SIRGAS", "MAGNA"}},
	{5354, "MARGEN", []string{"Marco Geodesico Nacional de Bolivia", "MARGEN", "Marco_Geodesico_Nacional"}},
	{4702, "Mauritania 1999", []string{"Mauritania 1999"}},
	{6365, "Mexico ITRF2008", []string{"Mexico ITRF2008", "Red Geodesica Nacional 2008"}},
	{4483, "Mexico ITRF92", []string{"Mexico ITRF92", "Red Geodesica Nacional 1992", "Mexican Datum of 1993"}},
	{4023, "MOLDREF99", []string{"MOLDREF99"}},
	{8818, "MTRF-2000", []string{"MOMRA Terrestrial Reference Frame 2000", "MGD-2000", "MTRF-2000"}},
	{4130, "Moznet", []string{"Moznet (ITRF94)", "Moznet"}},
	{4167, "NZGD2000", []string{"New Zealand Geodetic Datum 2000", "NZGD2000"}},
	{5373, "Peru96", []string{"Peru96"}},
	{4763, "Pitcairn 2006", []string{"Pitcairn 2006"}},
	{4694, "POSGAR 94", []string{"Posiciones Geodesicas Argentinas 1994", "POSGAR 94", "POSGAR_1994"}},
	{4190, "POSGAR 98", []string{"Posiciones Geodesicas Argentinas 1998", "POSGAR 98", "POSGAR_1998"}},
	{5340, "POSGAR 2007", []string{"Posiciones Geodesicas Argentinas 2007", "POSGAR 2007"}},
	{4081, "REGCAN95", []string{"Red Geodesica de Canarias 1995", "REGCAN95"}},
	{4189, "REGVEN", []string{"Red Geodesica Venezolana", "SIRGAS-REGVEN", "REGVEN"}},
	{8699, "RSAO13", []string{"Reference System de Angola 2013", "Rede Permanentes de Estaciones GNSS de Angola", "RSAO13", "REPANGOL"}},
	{4558, "RRAF 1991", []string{"Reseau de Reference des Antilles Francaises 1991", "RRAF91", "RRAF_1991"}},
	{4046, "RGRDC 2005", []string{"Reseau Geodesique de la RDC 2005", "RGRDC 2005"}},
	{4627, "RGR92", []string{"Reseau Geodesique de la Reunion 1992", "RGR92", "RGR_1992"}},
	{4470, "RGM04", []string{"Reseau Geodesique de Mayotte 2004", "RGM04"}},
	{4749, "RGNC91-93", []string{"Reseau Geodesique de Nouvelle Caledonie 91-93", "RGNC91-93", "RGNC", "Reseau_Geodesique_de_Nouvelle_Caledonie_1991-93"}},
	{4463, "RGSPM06", []string{"Reseau Geodesique de Saint Pierre et Miquelon 2006", "RGSPM06", "Reseau_Geodesique_de_St_Pierre_et_Miquelon_2006"}},
	{8900, "RGWF96", []string{"Reseau Geodesique de Wallis et Futuna 1996", "RGWF96"}},
	{5489, "RGAF09", []string{"Reseau Geodesique des Antilles Francaises 2009", "RGAF09"}},
	{7073, "RGTAAF07", []string{"Reseau Geodesique des Terres Australes et Antarctiques Francaises 2007", "RGTAAF07", "Reseau Geodesique des TAAF 2007"}},
	{4624, "RGFG95", []string{"Reseau Geodesique Francais Guyane 1995", "RGFG95", "RGFG_1995"}},
	{6706, "RDN2008", []string{"Rete Dinamica Nazionale 2008", "RDN2008"}},
	{4764, "RSRGD2000", []string{"Ross Sea Region Geodetic Datum 2000", "RSRGD2000"}},
	{4075, "SREF98", []string{"Serbian Reference Network 1998", "SREF98"}},
	{8685, "SRB_ETRS89", []string{"Serbian Spatial Reference System 2000", "STRS00", "SRB_ETRS89"}},
	{0, "", []string{"SIRGAS-Chile"}},
	{5381, "SIRGAS-ROU98", []string{"SIRGAS-ROU98"}},
	{5393, "SIRGAS_ES2007.8", []string{"SIRGAS_ES2007.8"}},
	{4674, "SIRGAS 2000", []string{"Sistema de Referencia Geocentrico para las AmericaS 2000", "SIRGAS 2000", "Sistema de Referencia Geocentrico para America del Sur 2000"}},
	{5371, "MACARIO SOLIS", []string{"Sistema Geodesico Nacional de Panama MACARIO SOLIS", "MACARIO SOLIS", "SGNP_MARCARIO_SOLIS"}},
	{4765, "Slovenia 1996", []string{"Slovenia Geodetic Datum 1996", "D96", "Slovenia 1996"}},
	{7886, "SHGD2015", []string{"St. Helena Geodetic Datum 2015", "SHGD2015"}},
	{4757, "SVY21", []string{"SVY21"}},
	{4619, "SWEREF99", []string{"SWEREF99"}},
	{4151, "CHTRS95", []string{"Swiss Terrestrial Reference System 1995", "CHTRS95", "Swiss Terrestrial Reference Frame 1995 (CHTRF95)", "Swiss_TRF_1995"}},
	{3824, "TWD97", []string{"Taiwan Datum 1997", "TWD97", "TWD_1997"}},
	{5886, "TGD2005", []string{"Tonga Geodetic Datum 2005", "TGD2005"}},
	{5252, "TUREF", []string{"Turkish National Reference Frame", "TUREF"}},
	{4163, "Yemen NGN96", []string{"Yemen National Geodetic Network 1996", "YNGN96", "Yemen_NGN_1996"}},
}

// nullFamilies are the beginnings of the plain names of datums that come in many realizations, all
// within two metres of each other and of WGS 84.
var nullFamilies = []string{
	"nad83", "nad1983", "northamericandatum1983", "northamericandatumof1983", "northamerican1983",
	"europeanterrestrialreferencesystem1989", "europeanterrestrialreferenceframe", "etrs89", "etrs1989", "etrf",
	"reseaugeodesiquefrancais1993", "rgf93", "rgf1993",
}

// familyCodes are the geographic systems on datums of nullFamilies.
var familyCodes = []coded{
	{code: 4269, name: "NAD83", datum: "NAD83"},
	{code: 4152, name: "NAD83(HARN)", datum: "NAD83"},
	{code: 4759, name: "NAD83(NSRS2007)", datum: "NAD83"},
	{code: 6783, name: "NAD83(CORS96)", datum: "NAD83"},
	{code: 6318, name: "NAD83(2011)", datum: "NAD83"},
	{code: 6322, name: "NAD83(PA11)", datum: "NAD83"},
	{code: 6325, name: "NAD83(MA11)", datum: "NAD83"},
	{code: 4617, name: "NAD83(CSRS)", datum: "NAD83"},
	{code: 4258, name: "ETRS89", datum: "ETRS89"},
	{code: 4171, name: "RGF93 v1", datum: "RGF93"},
	{code: 9059, name: "ETRF89", datum: "ETRS89"},
	{code: 9702, name: "ETRF2000-PL", datum: "ETRS89"},
	{code: 9777, name: "RGF93 v2", datum: "RGF93"},
	{code: 9782, name: "RGF93 v2b", datum: "RGF93"},
}

// isNullDatum says whether the degrees of a datum count as WGS 84 degrees by convention.
func isNullDatum(datum string) bool {
	name := datumName(datum)
	for _, family := range nullFamilies {
		if strings.HasPrefix(name, family) {
			return true
		}
	}
	for _, d := range nullDatums {
		for _, known := range d.datum {
			if plainName(known) == name {
				return true
			}
		}
	}
	return false
}

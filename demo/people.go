package demo

// Names are made of given names and of family names that we know nobody to have.
var (
	given = []string{"Amara", "Bilal", "Chidi", "Dilys", "Emre", "Freya", "Gethin", "Hana", "Idris", "Jaya", "Kofi", "Leila", "Mateo", "Nia", "Otis",
		"Priya", "Quinn", "Rosa", "Samir", "Tova", "Umar", "Vera", "Wren", "Xanthe", "Yusuf", "Zofia", "Anouk", "Beno", "Ciara", "Dario", "Eira", "Farid",
		"Greta", "Hugo", "Isla", "Joram"}
	family = []string{"Brindlecote", "Oakenfell", "Merriweld", "Saltmarrow", "Fennimarsh", "Thornquell", "Wickerby", "Larkhollow", "Pebblemere",
		"Hazelthwick", "Copperwaite", "Dunmarrow", "Quillstead", "Ravenscombe-Ay", "Tallowmere", "Underbrae", "Vexleigh", "Winterhollin", "Yarrowgate",
		"Ashendyke", "Bellwether-Oo", "Cindermoss", "Driftwold", "Emberlow", "Foxglade", "Gorsemount", "Heatherquay", "Ivelstone", "Juniperry",
		"Kestrelby", "Lanternhow", "Mistlethorn", "Nettlefold-Wy", "Orchardine", "Plumtwist", "Quarrymoor"}
)

// School is the name of the invented school.
const School = "Alderwharf School"

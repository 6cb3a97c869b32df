package intake

import "slices"

// Roles returns every kind of input, in the order of manifests and settings.
func Roles() []Role {
	return []Role{pointsRole(), streamsRole(), worksRole(), unitsRole(), surveyedRole(), treatmentsRole(), barriersRole(), waterRole(), correctionsRole(), treatableRole(), valuesRole()}
}

// RoleOf returns the role with this name; false for none.
func RoleOf(name string) (Role, bool) {
	roles := Roles()
	i := slices.IndexFunc(roles, func(r Role) bool { return r.Name == name })
	if i < 0 {
		return Role{}, false
	}
	return roles[i], true
}

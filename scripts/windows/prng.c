/* The one function that Go's programs want of bcryptprimitives.dll, which Wine 8
   has not: random bytes, from the older call that it has. */
#include <windows.h>
BOOLEAN WINAPI SystemFunction036(PVOID buffer, ULONG length);
__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE data, SIZE_T length) {
	for (SIZE_T part; length > 0; data += part, length -= part) {
		part = length > 0x10000000 ? 0x10000000 : length;
		if (!SystemFunction036(data, (ULONG)part)) return FALSE;
	}
	return TRUE;
}

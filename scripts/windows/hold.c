/* hold FILE SIGN: keeps a file open as a spreadsheet does, for others to read and
   not to write or remove, until there is a file SIGN. */
#include <stdio.h>
#include <windows.h>
int main(int count, char **words) {
	HANDLE file = CreateFileA(words[1], GENERIC_READ, FILE_SHARE_READ, NULL, OPEN_EXISTING, 0, NULL);
	if (file == INVALID_HANDLE_VALUE) return 1;
	puts("held");
	fflush(stdout);
	while (GetFileAttributesA(words[2]) == INVALID_FILE_ATTRIBUTES) Sleep(50);
	CloseHandle(file);
	return 0;
}

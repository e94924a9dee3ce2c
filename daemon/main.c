/* SPDX-License-Identifier: MIT
 * main: the verbs and their wiring, nothing else. */
int main(void)
{
    return 64;
}

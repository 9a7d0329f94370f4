/* Linked with one whole layer and only what that layer may use: a call upward leaves a name that
 * nothing defines, and the build stops. */
int main(void)
{
    return 0;
}
